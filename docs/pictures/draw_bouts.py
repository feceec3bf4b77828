"""Draw the pictures of docs/bouts.md from the invented recordings that the tests use.

QT_QPA_PLATFORM=offscreen python docs/pictures/draw_bouts.py
"""

import os
import sys
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import Qt  # noqa: TID251 - draws the page itself
from PySide6.QtTest import QTest  # noqa: TID251 - the same
from PySide6.QtWidgets import QApplication  # noqa: TID251 - the same

from livemon.app.bouts_desk import BoutsWish, sessions_of
from livemon.view.bouts_source import BoutsSession
from livemon.view.qt.bouts_window import BoutsWindow
from livemon.view.settings import ThemeChoice, ViewSettings

HERE = Path(__file__).parent
sys.path.append(str(HERE.parent.parent / "tests" / "view"))

import bouts_scenes as scenes  # noqa: E402 - the tests' invented sessions

FIXTURE = HERE.parent.parent / "replay_fixtures" / "over-the-line.jsonl"
FIGURES, HISTORY = 0, 5
AT_S = 150


def draw(
    name: str,
    sessions: tuple[BoutsSession, ...],
    theme: ThemeChoice,
    tab: int,
    then: Callable[[BoutsWindow], None],
) -> None:
    """Save a picture of the window."""
    window = BoutsWindow(scenes.Desk(*sessions), ViewSettings(theme=theme))
    window.resize(1366, 768)
    window.show()
    window.refresh()
    window.page.tabs.setCurrentIndex(tab)
    QApplication.processEvents()
    then(window)
    QApplication.processEvents()
    window.grab().save(str(HERE / name))
    window.close()


def point(window: BoutsWindow) -> None:
    """Move the cross-hair."""
    for _ in range(AT_S // 5 + 1):
        QTest.keyClick(window.page.overlay, Qt.Key.Key_Right)


def main() -> None:
    """Draw them all."""
    application = QApplication([])
    invented = sessions_of(BoutsWish((FIXTURE,), resting=frozenset({"right forearm"})))
    draw("bouts-dark.png", invented, ThemeChoice.DARK, FIGURES, point)
    draw("bouts-history-light.png", scenes.three(), ThemeChoice.LIGHT, HISTORY, lambda _: None)
    application.processEvents()


if __name__ == "__main__":
    main()
