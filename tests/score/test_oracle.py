"""The oracle against published run lengths of the CUSUM, and its filter against theory."""

from math import exp

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from livemon.score.event import Fall
from livemon.score.oracle import ALARMS_AT_ZERO, first_alarm, seen_after_s, threshold
from livemon.score.seeds import Family, TraceKey
from livemon.score.trace import Trace, trace
from livemon.score.whitening import whitener
from livemon.synthetic.oximeter import Oximeter, measured

K, H = 0.5, 5.0


def siegmund(drift: float, h: float) -> float:
    """Average run length of a one-sided CUSUM (Siegmund 1985, Sequential Analysis, section 2.6)."""
    b = h + 1.166
    return (exp(-2 * drift * b) + 2 * drift * b - 1) / (2 * drift**2)


def page(x: np.ndarray, k: float, h: float) -> int | None:
    """Return where Page's recursion first reaches h."""
    s = 0.0
    for i, value in enumerate(x.tolist()):
        s = max(0.0, s + value - k)
        if s >= h:
            return i
    return None


def run_lengths(shift: float, runs: int, seed: int, chunk: int, memory: int) -> np.ndarray:
    """Run lengths of the oracle that waits for a step of one sigma, by its own code."""
    rng = np.random.default_rng(seed)
    shape = np.full(memory, 2 * K)
    lengths = []
    for _ in range(runs):
        alarm, before = None, 0
        carried = np.empty(0)
        while alarm is None:
            # What began long ago and has not alarmed has no say: Page's sum is back at zero.
            x = np.concatenate((carried, shift + rng.standard_normal(chunk)))
            alarm = first_alarm(x, shape, 2 * K * H)
            before += 0 if alarm is not None else len(x) - memory
            carried = x[-memory:]
        lengths.append(before + alarm + 1)
    return np.array(lengths)


def test_it_reacts_to_a_shift_of_one_sigma_as_the_tables_say() -> None:
    """10.4 for k = 0.5, h = 5 (Montgomery, Statistical Quality Control, table 9.3)."""
    lengths = run_lengths(shift=1.0, runs=1500, seed=1, chunk=100, memory=60)

    assert lengths.mean() == pytest.approx(10.4, abs=4 * lengths.std() / 1500**0.5)
    assert siegmund(1.0 - K, H) == pytest.approx(10.4, abs=0.1)


def test_it_is_as_quiet_as_the_tables_say() -> None:
    """930 one-sided for k = 0.5, h = 5: twice the 465 of the same table for two sides."""
    lengths = run_lengths(shift=0.0, runs=300, seed=2, chunk=1000, memory=200)

    assert lengths.mean() == pytest.approx(930, abs=4 * lengths.std() / 300**0.5)
    assert siegmund(-K, H) == pytest.approx(938, abs=1)


@given(st.integers(0, 10_000), st.floats(-0.5, 1.5))
def test_for_a_sudden_shift_it_is_pages_recursion(seed: int, shift: float) -> None:
    x = shift + np.random.default_rng(seed).standard_normal(120)

    assert first_alarm(x, np.full(120, 2 * K), 2 * K * H) == page(x, K, H)


def test_without_noise_a_ramp_is_seen_when_its_energy_reaches_the_limit() -> None:
    """Closed form: after n readings of slope b the ratio is b² n(n+1)(2n+1) / 12."""
    ramp = 0.1 * np.arange(1, 200)
    n = next(n for n in range(1, 200) if 0.01 * n * (n + 1) * (2 * n + 1) / 12 >= 8.0)

    assert first_alarm(ramp, ramp, 8.0) == n - 1
    assert first_alarm(np.zeros(199), ramp, 8.0) is None


def test_fewer_beginnings_are_still_beginnings() -> None:
    """A step at reading 40, looked for at every 8th: seen where the sum from 40 on says."""
    x = np.concatenate((np.full(40, -1.0), np.full(60, 1.0)))
    shape = np.full(50, 1.0)

    assert first_alarm(x, shape, 5.0, every=8) == first_alarm(x, shape, 5.0) == 49
    assert first_alarm(x, shape, 5.0, every=32) == 64 + 9


SENSORS = [
    pytest.param(
        Oximeter(rate_hz=2.0, white_sd=0.3, wander_sd=0.1, slow_sd=1.5, ripple_sd=0.0), id="slow"
    ),
    pytest.param(Oximeter(white_sd=1.0, wander_sd=0.0, ripple_sd=0.0), id="white"),
    pytest.param(Oximeter(rate_hz=5.0, white_sd=0.2, wander_sd=1.5, ripple_sd=0.0), id="wander"),
    pytest.param(Oximeter(white_sd=1.0, wander_sd=1.0, ripple_sd=0.0, smoothing_s=5), id="smooth"),
    pytest.param(Oximeter(white_sd=2.0, wander_sd=1.0, ripple_sd=0.0, step_pct=1.0), id="coarse"),
]


@pytest.mark.parametrize("oximeter", SENSORS)
def test_whitened_noise_is_white(oximeter: Oximeter) -> None:
    t_s = np.arange(40_000) / oximeter.rate_hz
    noise = measured(np.random.default_rng(3), t_s, np.full(len(t_s), 50.0), oximeter) - 50

    white = whitener(oximeter)(noise)[500:]
    assert white.std() == pytest.approx(1.0, abs=0.03)
    for lag in (1, 2, 5):
        assert abs(np.corrcoef(white[:-lag], white[lag:])[0, 1]) < 0.03


def test_it_raises_false_alarms_about_as_often_as_it_is_meant_to() -> None:
    """At one a minute instead of one in sixteen hours, or nothing would happen in a test."""
    oximeter = Oximeter(white_sd=0.5, wander_sd=0.6, ripple_sd=0.0)
    t_s = np.arange(12 * 3600.0)
    white = whitener(oximeter)
    noise = white(measured(np.random.default_rng(4), t_s, np.full(len(t_s), 50.0), oximeter) - 50)
    shape = white(-8 / 60 * np.arange(120.0))

    alarms, at = 0, 0
    while (alarm := first_alarm(noise[at : at + 3600], shape, threshold(20.0))) is not None:
        alarms += 1
        at += alarm + 1
    assert 8.0 < alarms / (at / 3600) < 50.0  # one constant serves all noises and slopes
    assert threshold(0.06) == pytest.approx(np.log(ALARMS_AT_ZERO / 0.06))


def falls_of(drawn: Trace) -> list[tuple[int, Fall]]:
    return [(i, f) for i, v in enumerate(drawn.verdicts) for f in v.falls]


def test_it_sees_most_falls_and_steep_ones_sooner() -> None:
    steep, slow = [], []
    for number in range(12):
        drawn = trace(TraceKey(Family.TUNING, "over the line", number))
        for site, fall in falls_of(drawn):
            seen = seen_after_s(drawn, site, fall, 0.06)
            bucket = steep if fall.rate_pct_per_min > 7 else slow
            bucket.append(fall.seconds if seen is None else seen)
            assert seen is None or 0 <= seen <= fall.seconds

    assert np.median(steep) < 20 < np.median(slow)


def test_a_fall_that_began_before_it_counts_is_seen_at_once() -> None:
    """The oracle needs no heart rate, so it has long seen what counts only when that is steady."""
    drawn = trace(TraceKey(Family.TUNING, "heart rate settles", 5))
    ((site, fall),) = falls_of(drawn)

    assert fall.start_s - fall.muscle_from_s > 30
    assert seen_after_s(drawn, site, fall, 0.06) == 0.0


def test_fewer_false_alarms_cost_time() -> None:
    drawn = trace(TraceKey(Family.TUNING, "breakaway", 1))
    ((site, fall),) = falls_of(drawn)

    seen = [seen_after_s(drawn, site, fall, rate) for rate in (10.0, 0.1, 0.001)]
    assert None not in seen
    assert seen == sorted(seen)
