"""The invitation and the window's own words in an invented language, longer than English."""

from collections.abc import Callable, Iterator

import pytest
import scenes
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel
from seen_text import misplaced, written
from test_pseudo_language import heard
from test_window import Asked, Marked

from livemon.tongue import ENGLISH, speak
from livemon.view.cue import Cue
from livemon.view.invitation import InvitationModel
from livemon.view.qt.hearing import Hearing
from livemon.view.qt.invitation_panel import InvitationPanel
from livemon.view.qt.message_page import MessagePage
from livemon.view.qt.voice import EXTRA, Voice
from livemon.view.qt.window import LiveWindow
from livemon.view.settings import ThemeChoice, ViewSettings
from translations.invented_language import left_in_english, pseudo, spoken

SIZES = [(1366, 768), (1920, 1080)]
COMMAND = "livemon relay --join K7QM-3XHD-9PTR-W4NA@192.168.1.20:8883"
#: As the share tells it; words of reach and refusal are worded elsewhere.
MODEL = InvitationModel(
    "K7QM-3XHD-9PTR-W4NA", "192.168.1.20:8883", "ÿ", COMMAND,
    tuple((True, False) * 12 for _ in range(24)), refused=("ÿ",),
)  # fmt: skip


@pytest.fixture(autouse=True)
def invented_language() -> Iterator[None]:
    speak(spoken())
    yield
    speak(ENGLISH)


@pytest.fixture
def opened(application: QApplication) -> Iterator[Callable[[tuple[int, int]], LiveWindow]]:
    windows: list[tuple[LiveWindow, Asked]] = []

    def open_one(size: tuple[int, int]) -> LiveWindow:
        asked = Asked()
        snapshot = scenes.session(scenes.quiet())
        window = LiveWindow(
            lambda: snapshot,
            asked,
            ViewSettings(theme=ThemeChoice.DARK),
            invitation=lambda: MODEL,
            play=lambda _: None,
            marks=Marked(),
        )
        windows.append((window, asked))
        window.resize(*size)
        window.show()
        window.activateWindow()
        assert QTest.qWaitForWindowActive(window)
        window.refresh()
        return window

    yield open_one
    for window, asked in windows:
        asked.done = True
        window.close()
        window.deleteLater()
    application.processEvents()
    application.sendPostedEvents(None, QEvent.Type.DeferredDelete)  # else they pile up


def english(lines: list[str]) -> list[str]:
    return [line for line in lines if left_in_english(line, {COMMAND, MODEL.code})]


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_the_invitation_speaks_it_throughout_and_has_room(
    opened: Callable[[tuple[int, int]], LiveWindow],
    application: QApplication,
    size: tuple[int, int],
) -> None:
    window = opened(size)
    QTest.keyClick(window, Qt.Key.Key_J)
    window.refresh()
    application.processEvents()
    (panel,) = window.findChildren(InvitationPanel)
    assert panel.isVisible()

    assert english(heard(panel)) == []
    lines = heard(panel)
    assert pseudo("Join code {code}").format(code=MODEL.code) in panel.accessibleDescription()
    assert pseudo("QR code of the invitation") in lines
    inside = window.rect()
    for label in panel.findChildren(QLabel):
        if label.isVisible():
            assert label.height() >= label.heightForWidth(label.width()), label.text()
            corner = label.mapTo(window, QPoint(label.width() - 1, label.height() - 1))
            assert inside.contains(corner), label.text()


def words_of(window: LiveWindow) -> list[str]:
    (page,) = window.findChildren(MessagePage)
    window.grab()
    assert page.isVisible()
    assert misplaced(page) == []
    shown = [line.shown for _, line, _ in written(window)]
    assert all(not line.endswith("…") or line == pseudo("Saving…") for line in shown)
    return [*shown, page.accessibleName(), page.accessibleDescription()]


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_a_screen_that_failed_says_so_in_it(
    opened: Callable[[tuple[int, int]], LiveWindow], size: tuple[int, int]
) -> None:
    window = opened(size)
    window.show_failure("ÿ: 1")

    lines = words_of(window)
    assert pseudo("The screen has failed") in lines
    assert english(lines) == []


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_a_window_that_waits_for_the_recording_says_so_in_it(
    opened: Callable[[tuple[int, int]], LiveWindow], size: tuple[int, int]
) -> None:
    window = opened(size)
    window.close()

    lines = words_of(window)
    assert pseudo("Saving…") in lines
    assert english(lines) == []


def test_what_is_tried_out_is_spoken_in_it() -> None:
    spoken_words: list[str] = []
    hearing = Hearing(lambda _: None, spoken_words.append)
    for cue in Cue:
        hearing.try_out(cue, ViewSettings(sound=True, speech=True))

    assert len(set(spoken_words)) == len(Cue)
    assert english(spoken_words) == []


def test_why_nothing_is_spoken_is_told_in_it(application: QApplication) -> None:
    voice = Voice()
    voice.say("ÿ")

    assert not voice.trouble or voice.trouble.startswith(pseudo("no speech: {why}")[:9])
    assert not left_in_english(voice.trouble.replace(EXTRA, ""), set())


def test_a_typed_value_is_refused_in_it(
    opened: Callable[[tuple[int, int]], LiveWindow], application: QApplication
) -> None:
    window = opened(SIZES[0])
    QTest.keyClick(window, Qt.Key.Key_M)
    line = application.focusWidget()
    assert line is not None
    QTest.keyClicks(line, "rpe 12")
    QTest.keyClick(line, Qt.Key.Key_Return)

    told = line.accessibleDescription()
    assert "12" in told
    assert english([told]) == []
