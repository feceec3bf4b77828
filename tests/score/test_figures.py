"""From results to figures, limits and tables: on results made by hand."""

import json
from dataclasses import replace
from math import inf

import pytest

from livemon.score.breakdown import breakdown, causes
from livemon.score.cause import Cause
from livemon.score.conditions import Conditions
from livemon.score.event import Ending, Fall, Moment
from livemon.score.figure import Figure, quantile
from livemon.score.figures import figures
from livemon.score.mishaps import STORMS
from livemon.score.result import Count, Edge, FallResult, TraceResult
from livemon.score.run import Score
from livemon.score.seeds import Family, TraceKey
from livemon.score.table import as_json, as_text


def fall(
    delay_s: float | None = 20.0, rate: float = 5.0, seconds: float = 100.0, oracle_s: float = 15.0,
    ending: Ending = Ending.FLATTENS, settles: bool = False, clear_s: float | None = 10.0,
    regained: bool = False,
) -> FallResult:  # fmt: skip
    what = Fall(100.0, 100.0 + seconds, 100.0, rate, ending, settles, regained)
    held = None if delay_s is None else 1.0
    return FallResult(what, delay_s, oracle_s, held, 0 if delay_s is None else 1, clear_s)


def result(
    scenario: str = "breakaway", false: int = 0, falls: tuple[FallResult, ...] = (),
    working: bool = True, counts_as: Moment = Moment.FALSE, number: int = 0, rate_hz: float = 1.0,
) -> TraceResult:  # fmt: skip
    return TraceResult(
        key=TraceKey(Family.TUNING, scenario, number),
        conditions=Conditions(rate_hz, 0.1, 1.0, "white", 0.0, "clean"),
        hours=12.0,
        quiet_work_h=6.0,
        quiet_rest_h=4.0,
        edges=tuple(Edge(50.0 + i, 0, counts_as, working) for i in range(false)),
        falls=falls,
        pace_changes=Count(1, 4) if scenario == "pace changes" else Count(),
        interval=Count(9, 10),
        interval_always=Count(7, 10),
        forecast=Count(8, 10),
    )


def by_name(*results: TraceResult) -> dict[str, Figure]:
    return {f.name: f for f in figures(results)}


def test_rates_are_per_hour_outside_falls() -> None:
    got = by_name(result(false=1), result(false=2, working=False), result(STORMS, false=5))

    assert got["false warnings"].value == pytest.approx(3 / 20)
    assert got["false warnings, work"].value == pytest.approx(1 / 12)
    assert got["false warnings, rest"].value == pytest.approx(2 / 8)
    assert got["false warnings, artefact storms"].value == pytest.approx(5 / 10)
    assert got["false warnings"].holds is False
    assert got["false warnings, artefact storms"].holds is True


@pytest.mark.parametrize("moment", [Moment.SLOW, Moment.TAIL, Moment.AFTER, Moment.UNSEEN])
def test_border_cases_are_shown_and_count_neither_way(moment: Moment) -> None:
    got = by_name(result(false=3, counts_as=moment))

    assert got["false warnings"].value == 0
    assert got["border cases, counted neither way"].count == 3


def test_a_right_warning_is_no_false_one() -> None:
    got = by_name(result(false=3, counts_as=Moment.FALL))

    assert got["false warnings"].count == got["border cases, counted neither way"].count == 0


def test_missed_falls_count_where_they_could_be_seen() -> None:
    falls = (
        fall(),
        fall(delay_s=None, clear_s=None),
        fall(delay_s=None, clear_s=None, oracle_s=61.0),  # seen too late to be promised
        fall(delay_s=None, clear_s=None, seconds=59.0),  # too short
        fall(delay_s=None, clear_s=None, rate=2.4),  # too slow
        fall(delay_s=None, clear_s=None, regained=True),  # heart rate could not be observed
    )
    got = by_name(result(falls=falls))

    assert got["feasible falls missed"].value == pytest.approx(1 / 2)
    assert got["fair falls missed"].value == pytest.approx(2 / 3)
    assert got["falls of 1.5-2.5 %/min missed"].value == pytest.approx(1.0)


def test_delays_by_slope_and_over_the_oracle() -> None:
    falls = (fall(10, 3.0), fall(30, 3.9), fall(40, 4.0), fall(None, 25.0, clear_s=None))
    got = by_name(result(falls=falls))

    assert got["delay, median"].value == pytest.approx(35.0)
    assert got["delay, mean"].value == pytest.approx((10 + 30 + 40 + 100) / 4)
    assert got["over the oracle's, median"].value == pytest.approx(20.0)
    assert got["delay at 2.5-4 %/min, median"].value == pytest.approx(20.0)
    assert got["delay at 4-7 %/min, median"].value == pytest.approx(40.0)
    assert got["delay at 20-30 %/min, median"].value == inf
    assert got["delay at 20-30 %/min, median"].holds is False
    assert got["delay at 7-12 %/min, median"].value is None
    assert got["delay at 7-12 %/min, median"].holds is None


def test_settling_heart_rate_and_clearing() -> None:
    falls = (
        fall(11, settles=True, clear_s=9.0),
        fall(99, clear_s=9.0),
        fall(15, rate=3.0, settles=True, ending=Ending.WORK_STOPS, clear_s=4.0),
    )
    got = by_name(result(falls=falls))

    assert got["heart rate settles, median"].value == pytest.approx(11.0)
    assert got["clear delay, fall flattens, median"].value == pytest.approx(9.0)
    assert got["clear delay, work stops, median"].value == pytest.approx(4.0)
    assert got["warning held"].holds is True


def test_falls_in_storms_are_not_promised() -> None:
    assert (
        by_name(result(STORMS, falls=(fall(None, clear_s=None),)))["fair falls missed"].count == 0
    )


def test_coverage_has_two_sides() -> None:
    got = by_name(result())

    assert got["90 % trend interval covers"].value == pytest.approx(0.9)
    assert got["90 % trend interval covers"].holds is True
    assert Figure("x", 0.95, "share", 10, 0.94, 0.86).holds is False
    assert Figure("x", 0.85, "share", 10, 0.94, 0.86).holds is False
    assert Figure("x", 0.86, "share", 10, 0.94, 0.86).holds is True


def test_quantiles_know_that_never_is_late() -> None:
    assert quantile([], 0.5) is None
    assert quantile([3.0, 1.0, 2.0], 0.5) == 2.0
    assert quantile([1.0, 2.0], 0.5) == pytest.approx(1.5)
    assert quantile([1.0, 2.0, inf], 0.5) == 2.0
    assert quantile([1.0, inf], 0.5) == inf
    assert quantile([inf, inf], 0.9) == inf


def test_a_level_may_be_twice_as_bad_as_the_whole() -> None:
    rows = breakdown([result(false=1, rate_hz=0.5), result(false=2, rate_hz=10.0), result(STORMS)])
    rates = {r.name: r for r in rows if r.group == "rate"}

    assert list(rates) == ["0.5 Hz", "10.0 Hz"]
    assert rates["0.5 Hz"].holds is True  # 0.1 an hour
    assert rates["10.0 Hz"].holds is False  # 0.2 an hour
    assert [r.name for r in rows if r.group == "scenario"] == ["breakaway", STORMS]
    assert all(r.holds is None for r in rows if r.group == "scenario")


def scored(*results: TraceResult) -> Score:
    rows, why = breakdown(results), causes(results)
    return Score(Family.TUNING, len(results), 24.0, figures(results), rows, why)


def test_tables_name_what_is_broken() -> None:
    text = as_text(scored(result(false=30), result(falls=(fall(None, clear_s=None),))))

    assert "BROKEN" in text
    assert "never" in text
    assert text.rstrip().endswith("not every limit holds")
    assert max(len(line) for line in text.splitlines()) <= 100


def test_json_is_plain_and_says_never() -> None:
    read = json.loads(as_json(scored(result(falls=(fall(None, clear_s=None),)))))

    values = {f["name"]: f["value"] for f in read["figures"]}
    assert values["delay, median"] == "never"
    assert values["delay at 7-12 %/min, median"] is None
    assert read["holds"] is False
    assert {"group", "name", "false_per_hour", "holds"} <= set(read["rows"][0])


def test_the_table_counts_false_warnings_by_circumstance() -> None:
    edge = Edge(50.0, 0, Moment.FALSE, working=True, cause=Cause.LEVEL)
    read = json.loads(as_json(scored(replace(result(), edges=(edge, edge)))))

    assert read["causes"]["level work"] == 2
    assert sum(read["causes"].values()) == 2
