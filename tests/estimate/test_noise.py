"""The noise estimate holds whatever else the signal does."""

import numpy as np
import pytest
from scipy.stats import iqr

from livemon.estimate.noise import LAGS_S, Noise
from livemon.series.bins import HISTORY_S

TIMES = np.arange(2000.0)


def learned(series: np.ndarray) -> Noise:
    """Show `series` second by second, as far as the history holds it."""
    noise = Noise(typical_sd=1.0, floor_sd=0.05, wander_sd=0.0, wander_s=20.0)
    for end in range(HISTORY_S, len(series) + 1):
        noise.update(series[end - HISTORY_S : end], HISTORY_S)
    return noise


def white(sd: float, seed: int = 0) -> np.ndarray:
    return np.random.default_rng(seed).normal(0, sd, len(TIMES))


@pytest.mark.parametrize("sd", [0.2, 1.0, 2.5])
@pytest.mark.parametrize(
    "motion",
    [
        pytest.param(0 * TIMES, id="level"),
        pytest.param(-TIMES / 6, id="a fall of 10 %/min"),
        pytest.param(8 * np.sin(TIMES / 120), id="slow swings"),
        pytest.param(np.where(TIMES % 300 < 150, 0.0, 15.0), id="steps"),
        pytest.param(np.where(TIMES % 50 == 0, 40.0, 0.0), id="spikes"),
    ],
)
def test_motion_is_not_noise(sd: float, motion: np.ndarray) -> None:
    assert learned(60 + motion + white(sd)).sd == pytest.approx(sd, rel=0.25)


def test_rounding_to_whole_per_cent_leaves_it() -> None:
    """Sheppard's correction: rounding adds 1/12 to the variance."""
    assert learned(np.round(60 + white(1.0))).sd == pytest.approx(np.sqrt(1 + 1 / 12), rel=0.2)


def test_a_rounded_still_series_has_the_spread_of_its_mean_distance() -> None:
    """Every tenth second is one higher: of its bends seven in ten are 0, and both quartiles.

    The others count with 0.6 at most. A normal distribution's SD is sqrt(pi / 2) times its mean
    distance, and white noise bends by six times its variance.
    """
    series = np.where(TIMES % 10 == 0, 61.0, 60.0)

    assert learned(series).sd == pytest.approx(0.3 * 0.6 * np.sqrt(np.pi / 2 / 6), rel=0.1)


def test_a_bend_that_goes_on_is_not_noise() -> None:
    bend = 0.002 * TIMES[:400] ** 2

    assert learned(60 + bend + white(0.07)[:400]).sd == pytest.approx(0.07, rel=0.25)


@pytest.mark.parametrize("phi", [0.5, 0.8])
def test_autocorrelation_shows_in_the_semivariogram(phi: float) -> None:
    """Of an AR(1) process it is sd^2 (1 - phi^lag), exactly."""
    rng, series = np.random.default_rng(4), np.zeros(6000)
    for i in range(1, 6000):
        series[i] = phi * series[i - 1] + rng.normal(0, np.sqrt(1 - phi * phi))
    g = learned(60 + series).semivariogram

    assert g[:3] == pytest.approx(1 - phi ** np.array(LAGS_S[:3]), rel=0.3)


def test_the_spread_is_a_quartile_distance() -> None:
    """For white noise the lag-1 estimate is scipy's interquartile range of second differences."""
    series = 60 + white(1.0, seed=9)[:HISTORY_S]
    noise = Noise(typical_sd=1.0, floor_sd=0.05, wander_sd=0.0, wander_s=20.0)
    for _ in range(10):
        changed = noise.update(series, HISTORY_S)
    bent = series[2:] - 2 * series[1:-1] + series[:-2]

    assert changed
    assert noise.semivariogram[0] == pytest.approx((iqr(bent, scale="normal") ** 2) / 6, rel=0.4)


def test_noise_that_becomes_louder_is_noticed_within_a_minute() -> None:
    quiet, loud = white(0.5)[:600], white(2.0, seed=2)[:60]

    assert learned(60 + np.concatenate([quiet, loud])).sd > 1.2


def test_the_muscle_s_own_movement_adds_no_more_to_a_lag_than_smoothing_does() -> None:
    """A factor of 2.2 from lag to lag as far as is measured, and 1.15 for all that is not."""
    g = learned(60 + 8 * np.sin(TIMES / 12)).semivariogram

    assert g[1:] / g[:-1] == pytest.approx([2.2, 2.2, 2.2, 2.2, 1.15, 1.0])


@pytest.mark.parametrize("step", [0.5, 1.0])
def test_a_rounding_sensor_has_at_least_its_rounding_error(step: float) -> None:
    noise = Noise(typical_sd=1.0, floor_sd=0.05, wander_sd=0.0, wander_s=20.0)
    noise.rounded_to(step)
    for _ in range(10):
        noise.update(np.full(HISTORY_S, 60.0), HISTORY_S)

    assert noise.sd == pytest.approx(step * np.sqrt(1 / 12))


def test_nothing_is_learned_from_a_short_history() -> None:
    noise = Noise(typical_sd=1.0, floor_sd=0.05, wander_sd=0.0, wander_s=20.0)

    assert not any(noise.update(np.zeros(HISTORY_S), 39) for _ in range(30))
    assert noise.looks == 0
