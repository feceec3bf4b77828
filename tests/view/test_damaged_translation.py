"""A damaged file of translations is told at the edge of the window, which opens all the same."""

from collections.abc import Iterator
from pathlib import Path

import pytest
import scenes
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from test_window import Asked

from livemon.tongue import ENGLISH, speak
from livemon.view.qt.application import run_window
from livemon.view.qt.header import Header
from livemon.view.qt.window import LiveWindow


@pytest.fixture(autouse=True)
def english_again() -> Iterator[None]:
    yield
    speak(ENGLISH)


def test_the_window_opens_in_english_and_says_what_is_damaged(
    application: QApplication, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "de" / "LC_MESSAGES"
    folder.mkdir(parents=True)
    (folder / "livemon.mo").write_bytes(b"cut off")
    monkeypatch.setenv("LANGUAGE", "de")
    asked, seen = Asked(), []

    def shown(window: LiveWindow) -> None:
        window.refresh()
        seen.extend(one.accessibleDescription() for one in window.findChildren(Header))
        asked.done = True
        QTimer.singleShot(0, window.close)

    code = run_window(
        lambda: scenes.session(scenes.quiet()),
        asked,
        notices=lambda: ("recording",),
        shown=shown,
        languages=tmp_path,
    )

    assert code == 0
    (words,) = seen
    assert "translation de is damaged and not used, recording" in words
