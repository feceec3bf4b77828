"""What the Bouts page says, without a screen: numbers, dashes with reasons, verdicts, gaps."""

from dataclasses import replace
from math import isfinite
from pathlib import Path

import bouts_scenes as scenes
import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.analyse.bout import Bout
from livemon.analyse.gather import records_of
from livemon.analyse.series import Series
from livemon.record.reader import open_recording
from livemon.view.bouts_figures import figures
from livemon.view.bouts_history import QUANTITIES, history_model, seconds_of
from livemon.view.bouts_model import BoutsModel, Picks, bouts_model, first_choice
from livemon.view.bouts_overlay import overlay, read_out
from livemon.view.bouts_source import BoutKey, BoutsSession, placed_bouts
from livemon.view.bouts_ticks import day_ticks, time_ticks, value_ticks
from livemon.view.bouts_trace import round_range, trace, value_at
from livemon.view.numbers import DASH

FIXTURES = Path(__file__).parent.parent.parent / "replay_fixtures"
DROP, _, SLOPE, _ = QUANTITIES


def model(name: str) -> BoutsModel:
    sessions = scenes.SCENES[name]()
    return bouts_model(sessions, first_choice(sessions))


def texts(shown: BoutsModel) -> list[str]:
    """Return every text of the page."""
    cells = [c for row in shown.figures.rows for c in row.cells]
    cells += [row.difference for row in shown.differences.rows]
    said = [*shown.limits, *shown.no_pace, *(w for pace in shown.paces for w in pace.words)]
    return [
        shown.note, shown.overlay.note, shown.differences.note,
        *(t for c in cells for t in (c.text, c.tip)),
        *(p.text for p in said),
        *(row.spoken for row in shown.rows),
        *(row.verdict for row in shown.differences.rows),
    ]  # fmt: skip


def cell(shown: BoutsModel, site: str, quantity: str, column: int) -> str:
    rows = shown.figures.rows
    at = next(i for i, row in enumerate(rows) if row.heading and row.name.lower() == site)
    return next(r for r in rows[at:] if r.name == quantity).cells[column].text


@pytest.mark.parametrize("name", scenes.SCENES)
def test_no_text_holds_what_is_no_number(name: str) -> None:
    assert not [t for t in texts(model(name)) if "nan" in t.lower().split() or "inf" in t.split()]


@pytest.mark.parametrize("name", scenes.SCENES)
def test_every_dash_has_a_reason(name: str) -> None:
    shown = model(name)

    cells = [c for row in shown.figures.rows for c in row.cells]
    assert [c for c in cells if c.text == DASH and not c.tip] == []
    assert [c for c in cells if (c.text == DASH) and c.known] == []


@pytest.mark.parametrize("name", scenes.SCENES)
def test_curves_and_ranges_are_finite(name: str) -> None:
    shown = model(name)

    for pane in shown.overlay.panes:
        assert isfinite(pane.low)
        assert pane.low < pane.high
        for curve in pane.curves:
            assert np.isfinite(curve.trace.values).all()
            assert len(curve.trace.joined) == len(curve.trace.t_s) == len(curve.trace.values)


def test_a_recording_without_bouts_says_what_to_mark() -> None:
    shown = model("no bouts")

    assert shown.note == (
        "no bouts were marked: mark the start and end of work to have it analysed"
    )
    assert shown.rows == ()


def test_no_recording_says_so() -> None:
    assert model("no recording").note == "there is no recording to compare"


def test_all_gaps_are_told_for_every_bout_and_pane() -> None:
    note = model("all gaps").overlay.note

    assert note.count("no SmO2 of left thigh in it") == 2
    assert note.count("no heart rate in it") == 2


def test_without_baseline_there_are_no_points_from_it() -> None:
    sessions = scenes.no_rest()
    shown = bouts_model(sessions, replace(first_choice(sessions), relative=True))

    assert f"no baseline at {scenes.THIGH}" in shown.overlay.note
    assert cell(shown, scenes.THIGH, "Drop, points", 0) == DASH


def test_the_table_shows_the_known_truth_of_the_invented_bouts() -> None:
    """The invented slope of bout 4 is 0.04 (250 - 290) = -1.6 %/min; the fall before it 18."""
    shown = model("one")

    assert cell(shown, scenes.THIGH, "Slope of late part, %/min", 3).startswith("−1.6 (")
    assert cell(shown, scenes.THIGH, "Balance", 3) == "Demand ahead"
    assert cell(shown, scenes.THIGH, "Balance", 0) == "Supply ahead"
    assert cell(shown, scenes.FOREARM, "Balance", 3) == "In balance"
    assert shown.figures.rows[0].cells[3].text == "5:00"
    assert [row.cells[0].text for row in shown.figures.rows if row.name == "Change, mmol/L"] == [
        "+2.2 (+1.7 to +2.7)"
    ]


def test_the_pace_that_holds_is_the_invented_one_and_carries_its_cautions() -> None:
    """The invented slopes cross zero at 250 W."""
    pace = next(p for p in model("one").paces if p.name == "Left thigh, ride")

    assert pace.holds.value == pytest.approx(250, abs=1.0)
    assert pace.holds.low is not None
    assert pace.holds.low < 250 < (pace.holds.high or 0)
    words = " ".join(p.text for p in pace.words)
    assert "250\N{NO-BREAK SPACE}W (249 to 251)" in words
    assert "not known" in words
    assert "Local rules and licensed practice come first" in words


def test_too_few_intensities_give_the_reason_instead_of_a_pace() -> None:
    pace = model("three").paces[0]

    assert pace.holds.value is None
    assert "Needs bouts at three different intensities at least" in [p.text for p in pace.words]


def test_what_limits_comes_with_its_evidence() -> None:
    said = [p.text for p in model("one").limits]

    assert "4 ride: local" in said
    assert any(t.startswith("Left thigh (working): demand ahead, −1.6 %/min") for t in said)
    assert "No study has tested this reading on single athletes." in said[-1]


def test_differences_are_against_the_first_picked_and_their_verdicts_rest_on_intervals() -> None:
    shown = model("one").differences

    slopes = [r for r in shown.rows if r.quantity == "Slope, %/min" and r.site == "Left thigh"]
    assert [r.bout for r in slopes] == ["2 ride", "3 ride", "4 ride"]
    assert slopes[2].verdict == "falls more or rises less"
    assert slopes[2].clear
    resting = [r for r in shown.rows if r.site.startswith("Right forearm") and r.clear]
    assert resting == []


def test_between_recordings_a_level_must_differ_by_more_than_a_new_placement_can() -> None:
    """15 points: Skotzke et al. 2024, doi 10.1007/s00421-024-05514-2."""
    rows = [r for r in model("three").differences.rows if r.quantity == "Late level, points"
            and r.site == "Left thigh"]  # fmt: skip

    by_bout = {r.bout: r for r in rows}
    assert not by_bout["1 ride, 2 May 2026"].clear
    assert "less than the 15 %" in by_bout["1 ride, 2 May 2026"].verdict
    assert by_bout["1 ride, 2 Sep 2026"].verdict == "lower level"


def test_one_bout_alone_asks_for_another() -> None:
    sessions = scenes.one()
    shown = bouts_model(sessions, Picks((BoutKey("r1", 2),), (scenes.THIGH,)))

    assert shown.differences.rows == ()
    assert "two bouts or more" in shown.differences.note
    assert shown.figures.columns == ("2 ride",)


def test_what_is_no_longer_there_is_dropped_from_the_picks() -> None:
    shown = bouts_model(scenes.one(), Picks((BoutKey("gone", 1), BoutKey("r1", 9)), ("nose",)))

    assert shown.picks.bouts == ()
    assert shown.picks.sites == ()


def test_places_stay_when_picks_change() -> None:
    """A bout keeps its colour and marker whatever else is picked."""
    shown = bouts_model(scenes.one(), Picks((BoutKey("r1", 4),), (scenes.THIGH,)))

    assert shown.figures.places == (3,)
    assert [c.place for c in shown.overlay.panes[0].curves] == [3]


def test_points_from_baseline_begin_near_zero() -> None:
    placed = placed_bouts(scenes.one())
    shown = overlay(placed, (scenes.THIGH,), relative=True)

    first = shown.panes[0].curves[0].trace
    assert abs(float(first.values[first.t_s < -10].mean())) < 0.5
    assert read_out(shown, 150.0).rows[3][1].startswith("−")


def test_the_read_out_tells_time_and_values() -> None:
    shown = overlay(placed_bouts(scenes.one()), (scenes.THIGH,), relative=False)

    found = read_out(shown, 130.0)
    assert found.time == "2:10 after the start"
    assert found.columns == ("Bout", "Left thigh, SmO₂ %", "Heart rate, bpm")
    assert [row[0] for row in found.rows] == ["1 ride", "2 ride", "3 ride", "4 ride"]
    # 68 - 18 + 0.04 (250 - 290) 130/60 = 46.5, give or take the ripple's mean over the bin
    assert float(found.rows[3][1]) == pytest.approx(46.5, abs=1.0)
    assert read_out(shown, -20.0).time == "0:20 before the start"
    assert read_out(shown, None).rows[0][1:] == (DASH, DASH)


def test_a_gap_is_not_joined_and_not_read() -> None:
    t_s = [float(t) for t in range(300) if not 100 <= t < 140]
    shown = trace(Series.of(t_s, [50.0] * len(t_s)), Bout(1, 60, 240))

    at = int(np.flatnonzero(~shown.joined)[0])
    assert shown.t_s[at] < 40 < shown.t_s[at + 1]  # the gap is 40 to 80 s into the bout
    assert int((~shown.joined).sum()) == 2  # there, and at the end
    assert value_at(shown, 60.0) is None
    assert value_at(shown, 20.0) == 50.0


def test_a_bout_that_the_recording_lacks_at_both_ends_is_cut_there() -> None:
    shown = trace(Series.of([100.0, 101.0, 102.0], [50.0, 51.0, 52.0]), Bout(1, 100, 101))

    assert shown.t_s.min() >= -2.0
    assert value_at(shown, 500.0) is None


def test_history_names_what_counts_as_changed_and_what_does_not() -> None:
    found = history_model(scenes.three(), DROP, scenes.THIGH, "ride")

    assert [d.day for d in found.dots] == ["2 Mar 2026", "2 May 2026", "2 Sep 2026"]
    assert [d.change for d in found.dots] == ["no change that counts"] * 2 + ["higher"]
    assert found.band is not None
    first = found.dots[0].figure.value or 0.0
    assert found.band == (pytest.approx(first - 15), pytest.approx(first + 15))


def test_a_slope_has_no_band_and_gets_no_verdict() -> None:
    found = history_model(scenes.three(), SLOPE, scenes.THIGH, "ride")

    assert found.band is None
    assert {d.change for d in found.dots} == {"no limit of change is published"}
    assert "not published" in found.note


def test_history_without_such_a_bout_says_so() -> None:
    assert history_model(scenes.one(), DROP, scenes.THIGH, "swim").note == (
        "No recording has such a bout at this site."
    )


def test_a_start_that_is_no_time_has_no_place_on_the_axis() -> None:
    assert seconds_of("yesterday") is None
    assert seconds_of("1970-01-02T00:00:00+00:00") == 86_400


def test_the_fixture_shows_the_three_kinds_of_work_and_the_heavier_sled() -> None:
    """The invented session was made so: rowing refills, step-ups hold, the heavier sled drains."""
    recording = open_recording(FIXTURES / "over-the-line.jsonl")
    record = records_of(recording.head, recording.events())[0]
    sessions: tuple[BoutsSession, ...] = (scenes.session(record, recording.head.session),)
    shown = bouts_model(sessions, first_choice(sessions))

    words = [cell(shown, "left thigh", "Balance", i) for i in range(4)]
    assert words == ["Supply ahead", "In balance", "In balance", "Demand ahead"]
    assert shown.rows[0].spoken == "Bout 1, rowing, 4:00, 148 bpm"


def test_a_site_that_one_recording_lacks_gets_a_dash_and_its_reason() -> None:
    was = scenes.record(scenes.POWERS_W[:2], "r2")
    alone = replace(was, smo2={scenes.THIGH: was.smo2[scenes.THIGH]})
    sessions = (scenes.one()[0], scenes.session(alone, "r2", 5))
    found = figures(placed_bouts(sessions), (scenes.FOREARM,))

    balance = next(row for row in found.rows if row.name == "Balance")
    assert balance.cells[-1].text == DASH
    assert balance.cells[-1].tip == f"no sensor on {scenes.FOREARM} in this recording"


@given(
    low=st.floats(-1e6, 1e6), width=st.floats(1e-3, 1e6), most=st.integers(1, 12)
)  # fmt: skip
@example(low=0.0, width=1.0, most=1)
@example(low=-60.0, width=420.0, most=8)
def test_ticks_are_few_rising_and_inside(low: float, width: float, most: int) -> None:
    high = low + width
    for maker in (value_ticks, time_ticks, day_ticks):
        places = [place for place, _ in maker(low, high, most)]
        slack = width * 1e-6
        assert places == sorted(places)
        assert all(low - slack <= p <= high + slack for p in places)
    assert len(value_ticks(low, high, most)) <= most + 1


def test_ticks_are_round_and_written_as_people_do() -> None:
    assert value_ticks(30, 80, 5) == (
        (30, "30"), (40, "40"), (50, "50"), (60, "60"), (70, "70"), (80, "80")
    )  # fmt: skip
    assert [label for _, label in value_ticks(-1, 1, 4)] == ["−1.0", "−0.5", "0.0", "0.5", "1.0"]
    assert [label for _, label in time_ticks(-60, 120, 4)] == ["−1:00", "0:00", "1:00", "2:00"]
    assert value_ticks(5, 5, 4) == ()


@given(st.lists(st.floats(0, 100), min_size=1))
@example([50.0])
@example([0.0, 100.0])
def test_a_range_is_round_and_holds_every_value(values: list[float]) -> None:
    ends = round_range(values, 10, 30)

    assert ends is not None
    assert ends[0] <= min(values) <= max(values) <= ends[1]
    assert ends[1] - ends[0] >= 30
    assert ends[0] % 10 == ends[1] % 10 == 0
