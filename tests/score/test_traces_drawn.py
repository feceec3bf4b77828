"""Traces: the same for the same key, apart for the two families, and what their names say."""

from itertools import pairwise

import numpy as np
import pytest

from livemon.decode.samples import HeartRateSample, OxygenationSample
from livemon.score.conditions import LINKS, NOISE_SDS, RATES_HZ, STEPS_PCT, draw, oximeter
from livemon.score.event import Moment
from livemon.score.scenarios import SCENARIOS
from livemon.score.seeds import Family, TraceKey, scenarios
from livemon.score.surprises import SURPRISES
from livemon.score.trace import trace


def test_a_key_says_all() -> None:
    key = TraceKey(Family.FINAL, "staircase", 3)

    assert trace(key).samples == trace(key).samples


def test_families_share_no_trace() -> None:
    tuning = trace(TraceKey(Family.TUNING, "breakaway", 0))
    final = trace(TraceKey(Family.FINAL, "breakaway", 0))

    assert tuning.samples != final.samples
    assert set(scenarios(Family.FINAL)) - set(scenarios(Family.TUNING)) == set(SURPRISES)


@pytest.mark.parametrize("scenario", [*SCENARIOS, *SURPRISES])
def test_every_scenario_gives_traces_that_can_be_fed(scenario: str) -> None:
    for number in range(3):
        drawn = trace(TraceKey(Family.FINAL, scenario, number))
        hearts = [s for s in drawn.samples if isinstance(s, HeartRateSample)]
        muscles = [s for s in drawn.samples if isinstance(s, OxygenationSample)]
        assert len(hearts) > 0.9 * drawn.plan.seconds - 5
        assert len(muscles) > 0.5 * drawn.plan.seconds * drawn.conditions.rate_hz
        assert 300 < drawn.plan.seconds < 3000
        assert all(s.smo2_pct is None or 0 <= s.smo2_pct <= 100 for s in muscles)
        assert all(s.bpm is None or 30 <= s.bpm <= 240 for s in hearts)
        assert drawn.truth.sites[0].smo2_pct.min() > 10
        assert drawn.truth.sites[0].smo2_pct.max() < 95


FALLS = {
    "over the line", "heart rate settles", "breakaway", "fall to the low", "two sites",
    "curved fall", "staircase",
}  # fmt: skip
NO_FALLS = {
    "rest", "dip then refill", "drop and level", "pace changes", "intervals", "slow drift",
    "deep and level",
}  # fmt: skip


@pytest.mark.parametrize("scenario", sorted(FALLS | NO_FALLS))
def test_falls_are_where_the_name_says(scenario: str) -> None:
    drawn = [trace(TraceKey(Family.FINAL, scenario, n)) for n in range(5)]
    having = [any(v.falls for v in d.verdicts) for d in drawn]

    assert all(having) if scenario in FALLS else not any(having)


def test_where_the_strap_fails_heart_rate_cannot_be_observed() -> None:
    unseen = 0
    for number in range(12):
        drawn = trace(TraceKey(Family.TUNING, "strap fails", number))
        faults = drawn.plan.faults
        for begin_s, end_s in (*faults.silent, *faults.locked):
            span = drawn.verdicts[0].moments[drawn.index(begin_s) + 1 : drawn.index(end_s + 14.0)]
            assert Moment.FALL not in span
            unseen += np.count_nonzero(span == Moment.UNSEEN)
    assert unseen > 0


def test_changing_noise_is_louder_where_it_says() -> None:
    ratios = []
    for number in range(20):
        drawn = trace(TraceKey(Family.FINAL, "changing noise", number))
        ((begin_s, end_s, times),) = drawn.plan.faults.noisier
        shown, true = drawn.shown[0], drawn.truth
        off = shown.smo2_pct - np.interp(shown.t_s, true.t_s, true.sites[0].smo2_pct)
        rough = np.abs(np.diff(off)) + 1e-9
        inside = (shown.t_s[1:] > begin_s) & (shown.t_s[1:] < end_s)
        if drawn.conditions.step_pct < 1:
            ratios.append(np.mean(rough[inside]) / np.mean(rough[~inside]) / times)
    assert np.median(ratios) == pytest.approx(1.0, abs=0.15)


def test_slow_drifts_are_false_or_border_and_never_falls() -> None:
    for number in range(6):
        moments = trace(TraceKey(Family.FINAL, "slow drift", number)).verdicts[0].moments
        assert set(moments.tolist()) <= {Moment.FALSE, Moment.SLOW, Moment.TAIL}


def test_conditions_cross_every_level() -> None:
    rng = np.random.default_rng(1)
    drawn = [draw(rng) for _ in range(600)]

    pairs = {(c.rate_hz, c.noise_sd) for c in drawn}
    assert pairs == {(r, n) for r in RATES_HZ for n in NOISE_SDS}
    assert {(c.step_pct, c.link) for c in drawn} == {(s, k) for s in STEPS_PCT for k in LINKS}


def test_the_parts_of_the_noise_add_up_to_its_size() -> None:
    rng = np.random.default_rng(2)
    for _ in range(50):
        conditions = draw(rng)
        sensor = oximeter(rng, conditions, 600.0)
        parts = (sensor.white_sd, sensor.wander_sd, sensor.slow_sd, sensor.ripple_sd)
        assert np.hypot.reduce(parts) == pytest.approx(conditions.noise_sd)


def test_every_pace_change_moves_heart_rate() -> None:
    for number in range(20):
        phases = trace(TraceKey(Family.TUNING, "pace changes", number)).plan.phases[1:-1]
        for before, after in pairwise(phases):
            assert 8 <= abs(after.heart_rate_bpm - before.heart_rate_bpm) <= 25
