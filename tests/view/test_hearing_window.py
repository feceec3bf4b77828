"""Sound in the window: muted lanes, steps of a plan, speech, and trying sounds beforehand."""

from collections.abc import Iterator

import pytest
import scenes
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QWidget
from test_window import Bench, two_lanes

from livemon.view.cue import Cue
from livemon.view.handling import Handled, Handling
from livemon.view.qt.settings_panel import SettingsPanel
from livemon.view.qt.voice import EXTRA, Voice
from livemon.view.qt.wakefulness import Wakefulness
from livemon.view.settings import ViewSettings

SHIFT = Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def shown(application: QApplication) -> Iterator[Bench]:
    bench = Bench(scenes.session(scenes.quiet()))
    yield bench
    bench.asked.done = True
    bench.window.close()
    bench.window.deleteLater()
    application.processEvents()


def find(shown: Bench, name: str) -> QAbstractButton:
    return next(
        part
        for part in shown.window.findChildren(QAbstractButton)
        if name in (part.accessibleName(), part.text())
    )


def mute(shown: Bench) -> None:
    QTest.keyClick(shown.window, Qt.Key.Key_N, SHIFT)
    shown.look()


def test_a_muted_athlete_is_not_heard_and_the_screen_says_so(shown: Bench) -> None:
    shown.press(Qt.Key.Key_N)
    mute(shown)
    assert any("sound on, muted here" in text for text in shown.texts())
    shown.snapshot = scenes.session(scenes.warned())
    shown.look()
    assert shown.heard == [Cue.CAUTION]

    mute(shown)
    assert shown.heard == [Cue.CAUTION, Cue.DRAIN]
    assert shown.handled == [Handling("a3", Handled.MUTED), Handling("a3", Handled.HEARD)]


def test_all_lanes_say_which_are_muted(shown: Bench) -> None:
    shown.snapshot = two_lanes()
    shown.look()
    shown.press(Qt.Key.Key_N)
    shown.press(Qt.Key.Key_Down)
    mute(shown)

    assert any("sound on, lane 2 muted" in text for text in shown.texts())


def test_how_sound_stands_is_seen_whatever_else_there_is_to_say(shown: Bench) -> None:
    shown.problem = "NOT RECORDING: the disk is full; make room; 1234 lines wait in memory"
    shown.window.resize(1366, 768)
    shown.snapshot = scenes.class_of(24)
    shown.look()
    shown.press(Qt.Key.Key_N)
    mute(shown)
    lines = [
        line.shown
        for part in shown.window.findChildren(QWidget)
        if part.isVisible()
        for line in getattr(part, "written", ())
    ]

    (head,) = (line for line in lines if "sound on, lane 1 muted" in line)
    assert "NOT RECORDING" in head


def test_how_warnings_are_dealt_with_is_told(shown: Bench) -> None:
    shown.press(Qt.Key.Key_A)
    assert shown.handled == [], "nothing was to be seen"
    shown.snapshot = scenes.session(scenes.warned())
    shown.look()
    for key in (Qt.Key.Key_A, Qt.Key.Key_A, Qt.Key.Key_S, Qt.Key.Key_S, Qt.Key.Key_O):
        shown.press(key)

    assert shown.handled == [
        Handling("a3", Handled.SEEN),
        Handling("a3", Handled.ASIDE, 300.0),
        Handling("a3", Handled.BACK),
        Handling("a3", Handled.OUT),
    ]


def test_a_plans_step_is_heard_and_a_warning_goes_first(shown: Bench) -> None:
    shown.press(Qt.Key.Key_N)
    shown.snapshot = scenes.session(scenes.soon_over())
    shown.look()

    assert shown.heard == [Cue.CAUTION, Cue.STEP]
    assert shown.said == []


def test_speech_says_who_falls_and_what_comes(shown: Bench) -> None:
    shown.press(Qt.Key.Key_N)
    shown.press(Qt.Key.Key_Comma)
    find(shown, "Speech").setChecked(True)
    shown.press(Qt.Key.Key_Comma)
    shown.snapshot = scenes.session(scenes.soon_over())
    shown.look()
    shown.snapshot = scenes.session(scenes.warned())
    shown.look()

    assert shown.said == [
        "In 8 s: recovery, until refilled to 95 % of baseline, at most 5 min",
        "left thigh keeps falling.",
    ]


def test_each_sound_can_be_tried_before_it_matters(shown: Bench) -> None:
    shown.press(Qt.Key.Key_Comma)
    for words in ("Caution", "Drain", "Next step"):
        find(shown, f"Hear how it sounds: {words}").click()

    assert shown.heard == [Cue.CAUTION, Cue.DRAIN, Cue.STEP]


def test_in_the_settings_space_ticks_a_box_and_begins_no_bout(shown: Bench) -> None:
    shown.press(Qt.Key.Key_Comma)
    box = find(shown, "Sound")
    box.setFocus()
    QTest.keyClick(box, Qt.Key.Key_Space)
    assert box.isChecked()
    assert shown.asked.list == []

    shown.press(Qt.Key.Key_Escape)
    shown.press(Qt.Key.Key_Space)
    assert shown.asked.list == [("end", "a3")]


def test_without_qts_speech_it_says_what_to_install() -> None:
    voice = Voice()
    assert voice.trouble == ""
    voice.say("anything")

    assert EXTRA in voice.trouble or "no speech" in voice.trouble or voice.trouble == ""


def test_why_the_screen_may_go_dark_stands_in_the_settings(application: QApplication) -> None:
    panel = SettingsPanel(ViewSettings())
    panel.show_awake("it may go dark: no reason")
    texts = [part.text() for part in panel.findChildren(QLabel) if not part.isHidden()]
    assert "it may go dark: no reason" in texts

    panel.show_awake("")
    texts = [part.text() for part in panel.findChildren(QLabel) if not part.isHidden()]
    assert "it may go dark: no reason" not in texts
    panel.deleteLater()


def test_that_the_screen_may_go_dark_is_said_at_the_beginning() -> None:
    told: list[str] = []

    class Panel:
        def show_awake(self, words: str) -> None:
            told.append(words)

    asked: list[bool] = []

    def awake(wanted: bool) -> str:
        asked.append(wanted)
        return "no"

    wakefulness = Wakefulness(awake, Panel())  # type: ignore[arg-type] # no more is used of it
    assert wakefulness.notices(ViewSettings(), 1.0) == ("screen may go dark",)
    assert wakefulness.notices(ViewSettings(awake=False), 31.0) == ()
    assert (asked, told) == ([True, False], ["no", "no"])
