"""Pictures of whole pages, coarse enough to be kept as text and compared by eye in a review.

A page is drawn at 1366 × 768 and laid into 64 × 36 cells. Of each cell three digits are kept: how
much red, green and blue it holds, from 0 to f. Letters that are a pixel off change little; a card
that is missing, a colour of the wrong theme or a part in the wrong place change much.

    python tests/view/golden_pictures.py     draws them anew; look at what changes
"""

import os
import sys
from collections.abc import Callable
from pathlib import Path

os.environ["QT_QPA_PLATFORM"] = "offscreen"

import numpy as np
import scenes
from PySide6.QtGui import QFontInfo, QImage
from PySide6.QtWidgets import QApplication, QWidget

from livemon.monitor.snapshot import LaneState
from livemon.view.class_view import ClassView
from livemon.view.present import present
from livemon.view.qt.colours import palette
from livemon.view.qt.lanes import LanesPage
from livemon.view.qt.lettering import Lettering
from livemon.view.qt.look import Look
from livemon.view.qt.pace import PacePage
from livemon.view.settings import ViewSettings
from livemon.view.theme import DARK, LIGHT, Theme

FOLDER = Path(__file__).parent / "golden"
FONT = "DejaVu Sans"  #: the pictures were drawn with it; others are wider or narrower
COLUMNS, ROWS = 64, 36
WIDTH, HEIGHT = 1366, 768
_LEVELS = 15


def pace(lane: LaneState, theme: Theme, *, lit: bool = True) -> QWidget:
    """Return the Pace page of one athlete."""
    page = PacePage(Look(theme, Lettering(), motion=False))
    _prepare(page, theme)
    page.show_model(present(lane, ViewSettings()), lit=lit)
    return page


def lanes(count: int, theme: Theme) -> QWidget:
    """Return the Lanes page of a class."""
    page = LanesPage(Look(theme, Lettering(), motion=False))
    _prepare(page, theme)
    page.show_model(ClassView(ViewSettings()).model(scenes.class_of(count), ()), "a3", 0.0)
    return page


def _prepare(page: QWidget, theme: Theme) -> None:
    page.resize(WIDTH, HEIGHT)
    page.setPalette(palette(theme))
    page.setAutoFillBackground(True)


PAGES: dict[str, Callable[[], QWidget]] = {
    "pace-warned-dark": lambda: pace(scenes.warned(), DARK),
    "pace-half-back-light": lambda: pace(scenes.half_back(), LIGHT),
    "pace-no-contact-dark": lambda: pace(scenes.no_contact(), DARK),
    "lanes-8-dark": lambda: lanes(8, DARK),
    "lanes-24-light": lambda: lanes(24, LIGHT),
}


def same_font() -> bool:
    """Whether this machine draws with the letters of the pictures."""
    return QFontInfo(QApplication.font()).family() == FONT


def picture(page: QWidget) -> np.ndarray:
    """Return the page as levels from 0 to 15: rows, columns, red-green-blue."""
    page.grab()  # a first time, so that everything has its place
    image = page.grab().toImage().convertToFormat(QImage.Format.Format_RGB888)
    assert (image.width(), image.height()) == (WIDTH, HEIGHT), "the screen is scaled"
    lines = np.frombuffer(image.constBits(), np.uint8).reshape(HEIGHT, image.bytesPerLine())
    pixels = lines[:, : WIDTH * 3].reshape(HEIGHT, WIDTH, 3).astype(float)
    rows = np.linspace(0, HEIGHT, ROWS + 1).astype(int)
    columns = np.linspace(0, WIDTH, COLUMNS + 1).astype(int)
    summed = np.add.reduceat(np.add.reduceat(pixels, rows[:-1], 0), columns[:-1], 1)
    cells = np.diff(rows)[:, None, None] * np.diff(columns)[None, :, None]
    return np.round(summed / cells * _LEVELS / 255).astype(int)


def to_text(levels: np.ndarray) -> str:
    """Return levels as lines of three digits a cell."""
    lines = (" ".join("".join(f"{v:x}" for v in cell) for cell in row) for row in levels)
    return "\n".join(lines) + "\n"


def from_text(text: str) -> np.ndarray:
    """Return the levels that `to_text` wrote."""
    rows = [[[int(c, 16) for c in cell] for cell in line.split()] for line in text.splitlines()]
    return np.array(rows)


if __name__ == "__main__":
    application = QApplication([])
    if not same_font():
        sys.exit(f"the pictures are drawn with {FONT}; install it first")
    FOLDER.mkdir(exist_ok=True)
    for name, made in PAGES.items():
        (FOLDER / f"{name}.txt").write_text(to_text(picture(made())), encoding="ascii")
