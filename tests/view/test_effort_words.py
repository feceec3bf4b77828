"""How hard the work is, in words, and what becomes of them on the pages and in the terminal."""

from dataclasses import replace

import pytest
import scenes
from PySide6.QtWidgets import QApplication
from seen_text import written

from livemon.decode.samples import IntensitySource
from livemon.monitor.snapshot import ArterialState, EffortState, Trust
from livemon.series.effort import Effort
from livemon.view.effort_words import effort_models, main_effort
from livemon.view.lane_words import lane_model
from livemon.view.model import Tone
from livemon.view.present import present
from livemon.view.qt.lettering import Lettering
from livemon.view.qt.look import Look
from livemon.view.qt.pace import PacePage
from livemon.view.settings import ViewSettings
from livemon.view.standstill import pace_now
from livemon.view.terminal.picture import picture, status_line
from livemon.view.terminal.run import screen
from livemon.view.theme import DARK

NBSP = "\N{NO-BREAK SPACE}"
SETTINGS = ViewSettings()


def test_each_value_has_its_unit_and_the_cadence_says_what_it_counts() -> None:
    assert [one.whole for one in effort_models(scenes.measured())] == [
        f"212{NBSP}W", f"3.52{NBSP}m/s", f"27{NBSP}strokes/min", f"1240{NBSP}m", f"SpO₂ 97{NBSP}%",
    ]  # fmt: skip


def test_old_values_say_how_old_and_a_doubtful_saturation_gives_no_number() -> None:
    told = effort_models(scenes.old_effort())

    assert [one.whole for one in told] == [
        f"1212{NBSP}W, 1:23 ago",
        f"13.52{NBSP}m/s, 1:23 ago",
        f"172{NBSP}steps/min, 1:23 ago",
        f"12.4{NBSP}km, 1:23 ago",
        f"incline −12.5{NBSP}%, 1:23 ago",
        f"SpO₂{NBSP}–, doubtful",
    ]
    assert [one.tone for one in told] == [Tone.OLD] * 5 + [Tone.FAULT]


def test_an_oximeter_that_never_read_anything_shows_a_dash() -> None:
    lane = replace(scenes.quiet(), arterial=ArterialState(None, None, None, Trust.ABSENT))

    assert [(o.whole, o.tone) for o in effort_models(lane)] == [(f"SpO₂{NBSP}–", Tone.ABSENT)]


@pytest.mark.parametrize("source", IntensitySource)
def test_every_source_has_a_word_for_what_it_counts(source: IntensitySource) -> None:
    state = EffortState(Effort.CADENCE, 80.0, 0.1, Trust.GOOD, source, "s")
    (told,) = effort_models(replace(scenes.quiet(), effort=(state,)))

    assert told.text.endswith("/min")


def test_without_sensors_nothing_is_said_and_no_room_is_taken(application: QApplication) -> None:
    page = PacePage(Look(DARK, Lettering(), True))
    page.resize(1366, 768)
    said = []
    for state in (scenes.quiet(), scenes.measured(), scenes.quiet()):
        page.show_model(present(state, SETTINGS), lit=True)
        page.grab()
        said.append({line.shown for _, line, _ in written(page)})

    assert f"212{NBSP}W" in said[1]
    assert said[0] == said[2]
    assert main_effort(scenes.quiet()) is None


def test_the_value_table_and_the_spoken_lane_have_it_too() -> None:
    assert ("Speed", f"3.52{NBSP}m/s") in present(scenes.measured(), SETTINGS).table
    assert f"Power 212{NBSP}W" in lane_model(scenes.measured(), 1, SETTINGS).spoken


def test_when_the_session_stands_still_it_is_old() -> None:
    state = scenes.measured()
    model = pace_now(present(state, SETTINGS), scenes.session(state), 9.0, held=False)

    assert {one.tone for one in model.effort} == {Tone.OLD}


def test_the_terminal_has_it_on_one_line() -> None:
    model = present(scenes.measured(), SETTINGS)
    (line,) = (line for line in picture(model, 100) if "Effort" in line)

    assert f"212{NBSP}W · 3.52{NBSP}m/s · 27{NBSP}strokes/min" in line
    assert f"212{NBSP}W, 3.52{NBSP}m/s" in status_line(model)


def test_a_class_in_the_terminal_has_power_or_speed_beside_heart_rate() -> None:
    lines = screen(
        scenes.session(scenes.measured(), replace(scenes.quiet(), athlete="a4")),
        SETTINGS,
        (160, 20),
    )

    assert any(f"HR 158     212{NBSP}W" in line for line in lines[2:])
