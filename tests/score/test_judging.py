"""What warnings given by hand are counted as."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from livemon.decode.samples import HeartRateSample, OxygenationSample
from livemon.estimate.balance import Balance
from livemon.estimate.steadiness import Steadiness
from livemon.estimate.trend import Forecast, Trend
from livemon.monitor.changes import Change, WarningOff, WarningOn
from livemon.monitor.snapshot import AthleteSnapshot, HeartRateState, SiteState, Trust
from livemon.score.event import Moment
from livemon.score.judge import judge
from livemon.score.result import Count, TraceResult
from livemon.score.seeds import Family, TraceKey
from livemon.score.trace import Trace, trace
from livemon.score.watch import Probe, Shown, Watched, watch
from livemon.warn.priority import Priority

FALLING = trace(TraceKey(Family.TUNING, "over the line", 0))
FALL = FALLING.verdicts[0].falls[0]


def given(*spans: tuple[float, float | None], on: Trace = FALLING) -> TraceResult:
    """Judge warnings that were on from, to."""
    return judge(on, Watched(tuple(Shown(0, a, b) for a, b in spans), ()))


def test_a_warning_in_the_fall_is_right_and_has_its_delay() -> None:
    result = given((FALL.start_s + 12, FALL.end_s + 7))

    first = result.falls[0]
    assert [e.counts_as for e in result.edges] == [Moment.FALL]
    assert first.delay_s == pytest.approx(12.0)
    assert first.held_share == pytest.approx(1.0)
    assert first.edges == 1
    assert first.clear_s == pytest.approx(7.0)
    assert result.falls[1].delay_s is None


def test_silence_misses_every_fall_and_warns_falsely_of_none() -> None:
    result = given()

    assert result.edges == ()
    assert [f.delay_s for f in result.falls] == [None, None]
    assert all(f.held_share is None and f.clear_s is None and f.edges == 0 for f in result.falls)


def test_a_warning_that_was_on_before_has_no_delay_but_was_false() -> None:
    result = given((FALL.start_s - 20, FALL.end_s))

    assert [e.counts_as for e in result.edges] == [Moment.FALSE]
    assert result.falls[0].delay_s == 0.0


def test_a_warning_that_flickers() -> None:
    s = FALL.start_s
    result = given((s + 10, s + 20), (s + 30, FALL.end_s))

    first = result.falls[0]
    assert first.edges == 2
    assert first.held_share == pytest.approx(1 - 10 / (FALL.seconds - 10))
    assert first.clear_s is None  # it went off with the fall


def test_a_warning_after_the_fall_neither_saves_nor_costs() -> None:
    result = given((FALL.end_s + 5, FALL.end_s + 20))

    assert [e.counts_as for e in result.edges] == [Moment.AFTER]
    assert result.falls[0].delay_s is None


def test_a_warning_that_never_ends_is_cut_off_at_the_next_fall() -> None:
    result = given((FALL.start_s + 10, None))

    assert result.falls[0].clear_s is None
    assert result.falls[1].delay_s == 0.0


def test_false_warnings_know_whether_it_was_work() -> None:
    result = given((20.0, 25.0), (FALL.start_s - 60, FALL.start_s - 50))

    assert [(e.counts_as, e.working) for e in result.edges] == [
        (Moment.FALSE, False),
        (Moment.FALSE, True),
    ]


def test_the_delay_runs_from_when_heart_rate_was_steady() -> None:
    settling = trace(TraceKey(Family.TUNING, "heart rate settles", 0))
    (fall,) = settling.verdicts[0].falls

    assert fall.muscle_from_s < fall.start_s - 10
    (result,) = given((fall.start_s + 9, fall.end_s), on=settling).falls
    assert result.delay_s == pytest.approx(9.0)


def test_hours_are_those_outside_falls() -> None:
    result = given()

    falling_h = sum(f.fall.seconds for f in result.falls) / 3600
    assert result.quiet_work_h + result.quiet_rest_h == pytest.approx(
        result.hours - falling_h, abs=1e-4
    )


def test_pace_changes_are_blamed_for_two_minutes() -> None:
    pace = trace(TraceKey(Family.TUNING, "pace changes", 0))
    second, third = pace.plan.pace_changes_s[1:3]

    result = given((second + 5, second + 9), (third + 30, third + 40), (third + 50, None), on=pace)
    assert result.pace_changes == Count(2, len(pace.plan.pace_changes_s))
    early = given((pace.plan.pace_changes_s[0] - 5, None), on=pace)
    assert early.pace_changes.hits == 0


def probe(t_s: float, low: float, high: float) -> Probe:
    return Probe(t_s, 0, Trend((low + high) / 2, low, high), None, None)


def test_an_interval_has_to_hold_the_true_slope() -> None:
    late = FALL.start_s + 45  # the slope is 45 s old
    rate = FALL.rate_pct_per_min
    probes = (probe(late, -rate - 1, -rate + 1), probe(late, -rate + 0.5, 0.0))
    fresh = probe(FALL.start_s + 5, -1.0, 1.0)

    result = judge(FALLING, Watched((), (*probes, fresh)))
    assert result.interval == Count(1, 2)
    assert result.interval_always == Count(1, 3)


def test_a_forecast_is_about_the_low_that_was_shown() -> None:
    late = FALL.start_s + 45
    low = 20.0
    true_pct = np.interp(late, FALLING.truth.t_s, FALLING.truth.sites[0].smo2_pct)
    left_s = (float(true_pct) - low) / FALL.rate_pct_per_min * 60
    right = Probe(late, 0, None, Forecast(left_s * 0.8, left_s * 1.2), low)
    wrong = replace(right, forecast=Forecast(left_s * 1.1, left_s * 1.5))
    level = replace(right, t_s=FALL.start_s - 5)

    result = judge(FALLING, Watched((), (right, wrong, level)))
    assert result.forecast == Count(1, 3)


class ScriptedMonitor:
    """Warns from `on_s` to `off_s` at its first site and says nothing else."""

    def __init__(self, sites: tuple[str, ...], on_s: float, off_s: float) -> None:
        self._site, self._sites = sites[0], sites
        self._on_s, self._off_s = on_s, off_s
        self._t_s = 0.0
        self.ticks: list[float] = []

    def feed(self, sample: HeartRateSample | OxygenationSample) -> tuple[Change, ...]:
        return self._until(max(sample.t_s, self._t_s))

    def advance(self, t_s: float) -> tuple[Change, ...]:
        self.ticks.append(t_s)
        return self._until(t_s)

    def _until(self, t_s: float) -> tuple[Change, ...]:
        before, self._t_s = self._t_s, t_s
        if before < self._on_s <= t_s:
            return (WarningOn(self._site, t_s, Priority.CAUTION, 4.0, 10.0, 150.0),)
        if before < self._off_s <= t_s:
            return (WarningOff(self._site, t_s, "level"),)
        return ()

    def snapshot(self) -> AthleteSnapshot:
        trail = np.zeros((0, 2))
        heart = HeartRateState(
            None, None, Trust.ABSENT, None, Steadiness.UNDECIDABLE, None, None, trail
        )
        site = SiteState(
            self._site, None, None, None, Trust.ABSENT, Trend(0, -1, 1), Balance.UNSURE,
            None, None, None, None, None, trail,
        )  # fmt: skip
        return AthleteSnapshot(self._t_s, heart, (site,) * len(self._sites), ())


def test_a_monitor_is_fed_and_what_it_says_is_written_down() -> None:
    made: list[ScriptedMonitor] = []

    def make(sites: Sequence[str]) -> ScriptedMonitor:
        made.append(ScriptedMonitor(tuple(sites), 100.0, 130.0))
        return made[0]

    watched = watch(FALLING, make)

    (shown,) = watched.warnings
    assert shown.on_s == pytest.approx(100.0, abs=1.1)
    assert shown.off_s == pytest.approx(130.0, abs=1.1)
    assert len(watched.probes) == pytest.approx(FALLING.plan.seconds / 5, abs=3)


def test_silence_is_told_to_the_monitor() -> None:
    silent = replace(FALLING, samples=[s for s in FALLING.samples if not 50 < s.t_s < 60])
    monitor = ScriptedMonitor(("left thigh",), 55.0, 57.0)

    watched = watch(silent, lambda sites: monitor)
    assert watched.warnings[0].on_s == pytest.approx(55.0, abs=1.0)
    assert len([t for t in monitor.ticks if 50 < t < 60]) >= 8


def test_a_warning_that_outlasts_the_trace_has_no_end() -> None:
    watched = watch(FALLING, lambda sites: ScriptedMonitor(sites, 100.0, 1e9))

    assert watched.warnings[0].off_s is None
