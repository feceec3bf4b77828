"""The window: keys, empty states, closing, and a long life."""

import os
import signal
import subprocess
import sys
from collections.abc import Iterator, Mapping
from dataclasses import fields, replace

import pytest
import scenes
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QWidget

from livemon.events import MarkValue
from livemon.monitor.mark_fields import MarkKind
from livemon.monitor.snapshot import SessionSnapshot
from livemon.view.cue import Cue
from livemon.view.handling import Handling
from livemon.view.keys import LIVE_KEYS, Action
from livemon.view.plan_commands import PlanCommands
from livemon.view.qt.sound import Sound
from livemon.view.qt.window import LiveWindow
from livemon.view.settings import REASONS, ThemeChoice, ViewSettings


class Asked:
    """Commands that are only written down."""

    def __init__(self) -> None:
        self.list: list[object] = []
        self.done = False

    def begin_bout(self, athlete: str | None, kind: str, planned_s: float | None) -> None:
        self.list.append(("begin", athlete, kind, planned_s))

    def end_bout(self, athlete: str | None) -> None:
        self.list.append(("end", athlete))

    def note(self, athlete: str | None, text: str) -> None:
        self.list.append(("note", athlete, text))

    def undo(self) -> None:
        self.list.append("undo")

    def stop(self) -> None:
        self.list.append("stop")

    def finished(self) -> bool:
        return self.done


class Playing:
    """A replay that is only written down."""

    def __init__(self) -> None:
        self.held = False
        self.factors: list[float] = []

    def toggle_pause(self) -> None:
        self.held = not self.held

    def paused(self) -> bool:
        return self.held

    def faster(self, factor: float) -> None:
        self.factors.append(factor)


class Marked:
    """Marks that are only written down."""

    def __init__(self) -> None:
        self.list: list[tuple[str | None, str, dict[str, MarkValue]]] = []

    def mark(self, athlete: str | None, kind: MarkKind, entered: Mapping[str, MarkValue]) -> None:
        self.list.append((athlete, kind.value, dict(entered)))

    def mark_several(
        self, athletes: tuple[str, ...], kind: MarkKind, entered: Mapping[str, MarkValue]
    ) -> None:
        self.list += [(athlete, kind.value, dict(entered)) for athlete in athletes]


class Bench:
    """A window on a snapshot that the test chooses."""

    def __init__(
        self,
        snapshot: SessionSnapshot | None,
        replay: Playing | None = None,
        plans: PlanCommands | None = None,
    ) -> None:
        self.snapshot = snapshot
        self.asked = Asked()
        self.marked = Marked()
        self.chosen: list[ViewSettings] = []
        self.heard: list[Cue] = []
        self.said: list[str] = []
        self.handled: list[Handling] = []
        self.problem = ""
        self.window = LiveWindow(
            lambda: self.snapshot,
            self.asked,
            ViewSettings(theme=ThemeChoice.DARK),
            replay=replay,
            marks=self.marked,
            notices=lambda: (self.problem,) if self.problem else (),
            chosen=self.chosen.append,
            handled=self.handled.append,
            plans=plans,
            play=self.heard.append,
            say=self.said.append,
        )
        self.window.resize(1366, 768)
        self.window.show()
        self.window.activateWindow()
        assert QTest.qWaitForWindowActive(self.window)
        self.look()

    def look(self) -> None:
        self.window.refresh()
        self.window.grab()

    def press(self, key: Qt.Key) -> None:
        QTest.keyClick(self.window, key)
        self.look()

    def texts(self) -> set[str]:
        return {
            line.text
            for part in self.window.findChildren(QWidget)
            if part.isVisible()
            for line in getattr(part, "written", ())
        }


@pytest.fixture
def closed(application: QApplication) -> Iterator[list[Bench]]:
    """Close what a test has opened."""
    benches: list[Bench] = []
    yield benches
    for bench in benches:
        bench.asked.done = True
        bench.window.close()
        bench.window.deleteLater()
    application.processEvents()


def bench(
    closed: list[Bench],
    snapshot: SessionSnapshot | None,
    replay: Playing | None = None,
    plans: PlanCommands | None = None,
) -> Bench:
    made = Bench(snapshot, replay, plans)
    closed.append(made)
    return made


def test_with_nothing_connected_it_says_what_to_do(closed: list[Bench]) -> None:
    texts = bench(closed, None).texts()

    assert "Waiting for the strap…" in texts
    assert any("not a medical device" in text for text in texts)


def test_the_first_snapshot_opens_the_pace_page(closed: list[Bench]) -> None:
    shown = bench(closed, None)
    shown.snapshot = scenes.session(scenes.quiet())
    shown.look()

    assert {"158", "Left thigh"} <= shown.texts()


def test_space_ends_a_bout_and_begins_one(closed: list[Bench]) -> None:
    shown = bench(closed, scenes.session(scenes.quiet()))
    shown.press(Qt.Key.Key_Space)
    shown.snapshot = scenes.session(scenes.recovering())
    shown.look()
    shown.press(Qt.Key.Key_Space)

    assert shown.asked.list == [("end", "a3"), ("begin", "a3", "", None)]


def two_lanes() -> SessionSnapshot:
    other = scenes.lane(scenes.site("left calf", 51), name="Lane 7", athlete="a7")
    return scenes.session(scenes.quiet(), other)


def test_arrows_change_the_athlete(closed: list[Bench]) -> None:
    shown = bench(closed, two_lanes())
    shown.press(Qt.Key.Key_Return)
    assert "Left thigh" in shown.texts()

    shown.press(Qt.Key.Key_Right)
    assert "Left calf" in shown.texts()
    assert "Left thigh" not in shown.texts()
    shown.press(Qt.Key.Key_Right)
    assert "Left thigh" in shown.texts()
    shown.press(Qt.Key.Key_Left)
    assert "Left calf" in shown.texts()


def test_a_class_opens_with_its_lanes(closed: list[Bench]) -> None:
    assert {"Lanes", "2 athletes · Bout 2 · sled push", "Lane 3", "Lane 7"} <= bench(
        closed, two_lanes()
    ).texts()


def test_a_lane_opens_to_its_own_page_and_back_with_one_key(closed: list[Bench]) -> None:
    shown = bench(closed, two_lanes())
    shown.press(Qt.Key.Key_Down)
    shown.press(Qt.Key.Key_Return)
    assert "Left calf" in shown.texts()
    assert "Lanes" not in shown.texts()

    shown.press(Qt.Key.Key_Escape)
    assert "Lanes" in shown.texts()


def test_a_click_opens_the_lane_under_it(closed: list[Bench]) -> None:
    shown = bench(closed, two_lanes())
    strip = next(
        part
        for part in shown.window.findChildren(QWidget)
        if part.accessibleName() == "Lane 2, Lane 7"
    )
    QTest.mouseClick(strip, Qt.MouseButton.LeftButton)
    shown.look()

    assert "Left calf" in shown.texts()
    assert "Lanes" not in shown.texts()


def test_the_chosen_lane_gets_the_bout(closed: list[Bench]) -> None:
    shown = bench(closed, two_lanes())
    shown.press(Qt.Key.Key_Down)
    shown.press(Qt.Key.Key_Space)

    assert shown.asked.list == [("end", "a7")]


def tabbed(shown: Bench, times: int) -> list[str]:
    """Return what Tab leads to, one after the other."""
    names = []
    for _ in range(times):
        QTest.keyClick(shown.window, Qt.Key.Key_Tab)
        names.append(QApplication.focusWidget().accessibleName())
    return names


def test_tab_goes_from_heart_rate_over_the_sites_to_the_watch_line(closed: list[Bench]) -> None:
    shown = bench(closed, scenes.session(scenes.quiet()))

    assert tabbed(shown, 4) == ["Heart rate", "Left thigh", "Right forearm", "Watch"]


def test_tab_chooses_lane_after_lane(closed: list[Bench]) -> None:
    shown = bench(closed, two_lanes())

    assert tabbed(shown, 2) == ["Lane 1, Lane 3", "Lane 2, Lane 7"]
    shown.press(Qt.Key.Key_Space)
    assert shown.asked.list == [("end", "a7")]


def test_a_pinned_lane_stands_on_top(closed: list[Bench]) -> None:
    shown = bench(closed, two_lanes())
    shown.press(Qt.Key.Key_Down)
    shown.press(Qt.Key.Key_H)
    strips = [
        part for part in shown.window.findChildren(QWidget) if part.accessibleName()[:5] == "Lane "
    ]
    top = min(strips, key=lambda strip: strip.y())

    assert top.accessibleName() == "Lane 2, Lane 7"
    assert "2•" in shown.texts()


def test_a_note_is_written_and_escape_drops_one(closed: list[Bench]) -> None:
    shown = bench(closed, scenes.session(scenes.quiet()))
    shown.press(Qt.Key.Key_M)
    line = QApplication.focusWidget()
    QTest.keyClicks(line, "f t v grip slips")
    QTest.keyClick(line, Qt.Key.Key_Return)
    assert shown.marked.list == [("a3", "note", {"text": "f t v grip slips"})]

    shown.press(Qt.Key.Key_M)
    QTest.keyClicks(QApplication.focusWidget(), "no")
    shown.press(Qt.Key.Key_Escape)
    assert len(shown.marked.list) == 1


def test_a_value_for_a_lane_by_its_number(closed: list[Bench]) -> None:
    shown = bench(closed, two_lanes())
    shown.press(Qt.Key.Key_M)
    line = QApplication.focusWidget()
    QTest.keyClicks(line, "2 la 42")
    QTest.keyClick(line, Qt.Key.Key_Return)
    assert shown.marked.list == []
    assert "0.1 to 30 mmol/L" in line.accessibleDescription()

    QTest.keyClick(line, Qt.Key.Key_Backspace)
    QTest.keyClick(line, Qt.Key.Key_Return)
    assert shown.marked.list == [("a7", "lactate", {"lactate_mmol_l": "4"})]
    assert not line.isVisible()


def test_bouts_of_everybody_end_together_and_begin_together(closed: list[Bench]) -> None:
    shown = bench(closed, two_lanes())
    QTest.keyClick(shown.window, Qt.Key.Key_Space, Qt.KeyboardModifier.ShiftModifier)
    shown.snapshot = scenes.session(scenes.recovering())
    shown.look()
    QTest.keyClick(shown.window, Qt.Key.Key_Space, Qt.KeyboardModifier.ShiftModifier)

    assert shown.asked.list == [("end", None), ("begin", None, "", None)]


def test_a_warning_is_seen_set_aside_and_put_back(closed: list[Bench]) -> None:
    shown = bench(closed, scenes.session(scenes.warned()))
    sentence = "Left thigh falling 4.1 %/min for 24 s while heart rate holds 158"
    shown.press(Qt.Key.Key_A)
    assert sentence in shown.texts(), "seen does not mean gone"

    shown.press(Qt.Key.Key_S)
    assert f"Set aside for 5:00. {sentence}" in shown.texts()
    shown.press(Qt.Key.Key_S)
    assert sentence in shown.texts()
    shown.press(Qt.Key.Key_O)
    assert f"Out of service. {sentence}" in shown.texts()


def test_a_warning_that_ended_unseen_stays_until_it_is_seen(closed: list[Bench]) -> None:
    shown = bench(closed, scenes.session(scenes.warned()))
    shown.snapshot = scenes.session(scenes.quiet())
    shown.look()
    assert any(text.startswith("Not seen: Left thigh falling") for text in shown.texts())

    shown.press(Qt.Key.Key_A)
    assert "No warning" in shown.texts()


def test_the_table_of_values_can_be_reached(closed: list[Bench]) -> None:
    shown = bench(closed, scenes.session(scenes.quiet()))
    shown.press(Qt.Key.Key_V)
    table = QApplication.focusWidget()

    assert table.accessibleName() == "Table of all values"
    assert table.item(0, 1).text() == "No warning"
    shown.press(Qt.Key.Key_Escape)
    assert not table.isVisible()


def test_help_lists_every_key_that_works(closed: list[Bench]) -> None:
    shown = bench(closed, scenes.session(scenes.quiet()))
    shown.press(Qt.Key.Key_Question)
    said = QApplication.focusWidget().accessibleDescription()

    absent = {Action.KIT, Action.PLAN, Action.BOUTS, Action.JOIN}  # there is neither here
    for key in (one for one in LIVE_KEYS if one.action not in absent):
        assert f"{key.shown}: {key.does}" in said


def test_a_replay_takes_no_marks(closed: list[Bench]) -> None:
    shown = bench(closed, scenes.session(scenes.quiet()), Playing())
    shown.press(Qt.Key.Key_Space)
    shown.press(Qt.Key.Key_U)

    assert shown.asked.list == []


def test_theme_changes_and_is_followed_everywhere(closed: list[Bench]) -> None:
    shown = bench(closed, scenes.session(scenes.quiet()))
    dark = shown.window.grab().toImage().pixelColor(2, 2).lightness()
    shown.press(Qt.Key.Key_T)
    light = shown.window.grab().toImage().pixelColor(2, 2).lightness()

    assert dark < 60 < 200 < light


def test_settings_show_at_once_and_are_told(closed: list[Bench]) -> None:
    shown = bench(closed, scenes.session(scenes.quiet()))
    shown.press(Qt.Key.Key_Comma)
    shown.look()
    panel = next(
        part for part in shown.window.findChildren(QWidget) if part.accessibleName() == "Settings"
    )
    rows = {part.accessibleName(): part for part in panel.findChildren(QWidget)}
    assert any("at 3 m" in label.text() for label in panel.findChildren(QLabel))

    rows["Theme"].setCurrentText("light")
    rows["Read from"].setValue(5.0)
    shown.look()
    assert [settings.theme for settings in shown.chosen] == [ThemeChoice.LIGHT] * 2
    assert shown.chosen[-1].distance_m == 5.0
    assert any("at 5 m" in label.text() for label in panel.findChildren(QLabel))
    assert shown.window.grab().toImage().pixelColor(2, 2).lightness() > 200


def test_sound_is_off_until_wanted_and_heard_once_when_turned_on(closed: list[Bench]) -> None:
    shown = bench(closed, scenes.session(scenes.quiet()))
    assert "sound off" in shown.texts()
    shown.press(Qt.Key.Key_N)
    assert shown.heard == [Cue.CAUTION]
    assert "sound on" in shown.texts()

    shown.snapshot = scenes.session(scenes.warned())
    shown.look()
    shown.look()
    assert shown.heard == [Cue.CAUTION, Cue.DRAIN]


def test_without_multimedia_the_system_beeps(application: QApplication) -> None:
    Sound().play(Cue.DRAIN)  # must neither raise nor wait


def test_every_setting_has_its_reason() -> None:
    assert set(REASONS) == {field.name for field in fields(ViewSettings)}


def test_full_screen_and_back(closed: list[Bench]) -> None:
    shown = bench(closed, scenes.session(scenes.quiet()))
    shown.press(Qt.Key.Key_F)
    assert shown.window.isFullScreen()
    shown.press(Qt.Key.Key_Escape)
    assert not shown.window.isFullScreen()


def test_a_replay_can_be_held_and_hurried(closed: list[Bench]) -> None:
    playing = Playing()
    shown = bench(closed, scenes.session(scenes.quiet()), playing)
    shown.press(Qt.Key.Key_P)
    shown.press(Qt.Key.Key_Plus)
    shown.press(Qt.Key.Key_Minus)

    assert playing.factors == [2.0, 0.5]
    assert "Paused. No warning" in shown.texts()


def test_after_the_end_the_numbers_are_old(closed: list[Bench]) -> None:
    shown = bench(closed, replace(scenes.session(scenes.quiet()), ended=True))

    assert "Session ended" in shown.texts()


def test_closing_waits_until_everything_is_put_away(closed: list[Bench]) -> None:
    shown = bench(closed, scenes.session(scenes.quiet()))
    shown.window.close()
    shown.window.close()
    shown.look()
    assert shown.window.isVisible()
    assert "Saving…" in shown.texts()
    assert shown.asked.list == ["stop"]

    shown.asked.done = True
    shown.window.refresh()
    assert not shown.window.isVisible()


def test_a_failed_screen_shows_no_frozen_numbers(closed: list[Bench]) -> None:
    shown = bench(closed, scenes.session(scenes.quiet()))
    shown.window.show_failure("ValueError: planted")
    shown.look()

    assert "158" not in shown.texts()
    assert "ValueError: planted" in shown.texts()


def test_three_thousand_refreshes_leave_nothing_behind(
    application: QApplication, closed: list[Bench]
) -> None:
    """With a binding that loses references the process dies before a hundred of them."""
    snapshots = [scenes.session(scenes.SCENES[name]()) for name in ("warned", "no contact")]
    shown = bench(closed, snapshots[0])
    for snapshot in snapshots:
        shown.snapshot = snapshot
        shown.look()
    before = len(shown.window.findChildren(QWidget))
    shown.window.resize(480, 300)
    for turn in range(3000):
        base = snapshots[turn % len(snapshots)]
        shown.snapshot = replace(base, t_s=base.t_s + turn)
        shown.window.refresh()
        if turn % 3 == 0:  # on a slow machine some refreshes share one painting
            application.processEvents()

    assert len(shown.window.findChildren(QWidget)) == before


RUN = """
import sys, threading
sys.path.insert(0, {tests!r})
import scenes
from test_window import Asked
from livemon.view.qt.application import run_window

asked = Asked()
asked.stop = lambda: setattr(asked, "done", True)
def shown(window):
    print("shown", flush=True)
code = run_window(lambda: scenes.session(scenes.quiet()), asked, shown=shown,
                  remember=lambda size: print("size", size, flush=True))
sys.exit(code)
"""


@pytest.mark.skipif(os.name == "nt", reason="a console's Ctrl-C can't be sent to one process there")
def test_ctrl_c_closes_the_session_and_the_window(application: QApplication) -> None:
    process = subprocess.Popen(
        [sys.executable, "-c", RUN.format(tests=os.path.dirname(__file__))],  # noqa: PTH120
        stdout=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "shown\n"
    process.send_signal(signal.SIGINT)
    rest, _ = process.communicate(timeout=20)

    assert process.returncode == 0
    assert rest.startswith("size")
