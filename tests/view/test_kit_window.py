"""The Kit page in the window: when it is seen, what its keys do, and what they leave alone."""

from collections.abc import Iterator

import kit_scenes
import pytest
import scenes
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit
from test_window import Asked

from livemon.monitor.snapshot import SessionSnapshot
from livemon.view.qt.kit_page import KitPage
from livemon.view.qt.pace import PacePage
from livemon.view.qt.window import LiveWindow
from livemon.view.settings import ThemeChoice, ViewSettings
from livemon.warn.priority import Priority


class Bench:
    """A window with a kit, and what was asked of both."""

    def __init__(self, application: QApplication, snapshot: SessionSnapshot) -> None:
        self.snapshot = snapshot
        self.asked, self.kit = Asked(), kit_scenes.Asked(kit_scenes.kit(1)[0])
        self.window = LiveWindow(
            lambda: self.snapshot,
            self.asked,
            ViewSettings(theme=ThemeChoice.DARK),
            kit=self.kit,
            play=lambda _: None,
        )
        self.application = application
        self.window.resize(1366, 768)
        self.window.show()
        self.window.activateWindow()
        self.look()

    def look(self) -> None:
        self.window.refresh()
        self.application.processEvents()

    def press(self, key: Qt.Key) -> None:
        QTest.keyClick(QApplication.focusWidget() or self.window, key)
        self.look()

    @property
    def page(self) -> KitPage:
        return self.window.findChildren(KitPage)[0]

    def shows_kit(self) -> bool:
        return self.page.isVisible()


@pytest.fixture
def opened(application: QApplication) -> Iterator[list[Bench]]:
    benches: list[Bench] = []
    yield benches
    for bench in benches:
        bench.asked.done = True
        bench.window.close()


def bench(opened: list[Bench], application: QApplication, snapshot: SessionSnapshot) -> Bench:
    made = Bench(application, snapshot)
    opened.append(made)
    return made


def test_with_nobody_there_the_kit_stands_and_stays_when_somebody_was_added(
    application: QApplication, opened: list[Bench]
) -> None:
    shown = bench(opened, application, kit_scenes.snapshot())
    assert shown.shows_kit()
    shown.press(Qt.Key.Key_Escape)
    assert shown.shows_kit()  # there is nothing else to see

    shown.snapshot = kit_scenes.snapshot(*kit_scenes.lanes(1))
    shown.look()
    assert shown.shows_kit()
    shown.page.leave.click()
    shown.look()
    assert not shown.shows_kit()
    assert shown.window.findChildren(PacePage)[0].isVisible()


def test_a_session_with_somebody_opens_on_them_and_k_leads_there_and_back(
    application: QApplication, opened: list[Bench]
) -> None:
    shown = bench(opened, application, kit_scenes.snapshot(*kit_scenes.lanes(1)))
    assert not shown.shows_kit()
    assert ("look around", True) not in shown.kit.list
    for seen in (True, False, True):
        shown.press(Qt.Key.Key_K)
        assert shown.shows_kit() is seen
    shown.press(Qt.Key.Key_Escape)
    assert not shown.shows_kit()
    assert shown.kit.list.count(("look around", True)) == 2
    assert shown.kit.list[-1] == ("look around", False)


def test_on_the_kit_page_no_key_marks_anything(
    application: QApplication, opened: list[Bench]
) -> None:
    shown = bench(opened, application, kit_scenes.snapshot(*kit_scenes.lanes(1)))
    shown.press(Qt.Key.Key_K)
    for focus in (shown.page.worn, shown.page.look_around, shown.window):
        focus.setFocus()
        for key in (Qt.Key.Key_Space, Qt.Key.Key_U, Qt.Key.Key_L, Qt.Key.Key_M):
            shown.press(key)
    assert shown.asked.list == []
    assert shown.shows_kit()

    shown.press(Qt.Key.Key_K)
    shown.press(Qt.Key.Key_Space)
    assert shown.asked.list == [("begin", "a1", "", None)]


def test_letters_that_are_keys_can_be_typed_into_fields(
    application: QApplication, opened: list[Bench]
) -> None:
    shown = bench(opened, application, kit_scenes.snapshot())
    shown.page.nearby.choose("")
    line = shown.page.form.who.lineEdit()
    assert isinstance(line, QLineEdit)
    shown.page.worn.setCurrentIndex(shown.page.worn.model().index(0))
    line.setFocus()
    line.clear()
    QTest.keyClicks(line, "Kalman Luk? 1")

    assert line.text() == "Kalman Luk? 1"
    assert shown.shows_kit()


def test_arrows_choose_a_sensor_there(application: QApplication, opened: list[Bench]) -> None:
    shown = bench(opened, application, kit_scenes.snapshot(*kit_scenes.lanes(1)))
    shown.press(Qt.Key.Key_K)
    shown.page.worn.setFocus()
    for _ in range(3):
        shown.press(Qt.Key.Key_Down)

    assert shown.page.worn.key == "r1"


def test_a_warning_is_seen_on_the_kit_page_too(
    application: QApplication, opened: list[Bench]
) -> None:
    warned = scenes.lane(scenes.falling(priority=Priority.DRAIN), name="Ada", athlete="a1")
    shown = bench(opened, application, kit_scenes.snapshot(warned))
    shown.press(Qt.Key.Key_K)

    said = [one.text() for one in shown.page.findChildren(QLabel) if one.isVisible()]
    assert "Drain: Ada, left thigh" in said


def test_a_replay_has_no_kit(application: QApplication) -> None:
    asked = Asked()
    window = LiveWindow(lambda: None, asked, ViewSettings())
    window.refresh()

    assert window.findChildren(KitPage) == []
    asked.done = True
    window.close()
