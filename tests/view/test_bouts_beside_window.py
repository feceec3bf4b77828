"""The Bouts page opened from the live window: a window of its own, which ends nothing."""

from collections.abc import Iterator

import bouts_scenes
import pytest
import scenes
from PySide6.QtCore import QEvent, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from livemon.view.qt.bouts_window import BoutsWindow
from livemon.view.qt.window import LiveWindow
from livemon.view.settings import ThemeChoice, ViewSettings


class Ending:
    """A session that is put away as soon as it is asked."""

    def __init__(self) -> None:
        self.stops = 0

    def stop(self) -> None:
        self.stops += 1

    def finished(self) -> bool:
        return self.stops > 0

    def undo(self) -> None:
        pass


class Opened:
    """A live window, and the desks it opened."""

    def __init__(self) -> None:
        self.ending = Ending()
        self.desks: list[bouts_scenes.Desk] = []
        self.window = LiveWindow(
            lambda: scenes.session(scenes.quiet()),
            self.ending,
            ViewSettings(theme=ThemeChoice.LIGHT),
            bouts=self.open,
        )
        self.window.resize(1366, 768)
        self.window.show()
        self.activate()
        self.window.refresh()

    def open(self) -> bouts_scenes.Desk:
        self.desks.append(bouts_scenes.Desk(*bouts_scenes.SCENES["one"]()))
        return self.desks[-1]

    def activate(self) -> None:
        self.window.activateWindow()
        assert QTest.qWaitForWindowActive(self.window)

    def press(self) -> None:
        QTest.keyClick(self.window, Qt.Key.Key_B)
        QApplication.processEvents()

    def seen(self) -> list[BoutsWindow]:
        found = QApplication.topLevelWidgets()
        return [one for one in found if isinstance(one, BoutsWindow) and one.isVisible()]


@pytest.fixture
def opened(application: QApplication) -> Iterator[Opened]:
    made = Opened()
    yield made
    made.window.close()
    made.window.refresh()  # closes once the session is put away
    made.window.deleteLater()
    application.processEvents()
    application.sendPostedEvents(None, QEvent.Type.DeferredDelete)  # else they pile up


def test_the_key_opens_a_window_beside(opened: Opened) -> None:
    opened.press()
    (window,) = opened.seen()
    window.refresh()

    assert window.page.model.rows
    assert window.size() == opened.window.size()
    assert opened.window.isVisible()


def test_closing_it_lets_go_of_the_recording_and_ends_no_session(opened: Opened) -> None:
    opened.press()
    opened.seen()[0].close()
    opened.window.refresh()

    assert opened.desks[0].stopped
    assert opened.ending.stops == 0
    assert opened.window.isVisible()


def test_the_key_again_reads_what_has_come_since(opened: Opened) -> None:
    opened.press()
    opened.activate()
    opened.press()

    assert len(opened.seen()) == 1
    assert [desk.stopped for desk in opened.desks] == [True, False]


def test_it_goes_with_the_session(opened: Opened) -> None:
    opened.press()
    opened.window.close()

    assert opened.seen() == []
    assert opened.desks[0].stopped
