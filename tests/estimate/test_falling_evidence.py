"""A fall is dated, told from a step and from an onset."""

import numpy as np
import pytest

from livemon.estimate.bank import MUSCLE, Readings, read
from livemon.estimate.falling import best_fall, falls_after_levels
from livemon.estimate.noise import LAGS_S
from livemon.estimate.rivals import lead_over_onset, lead_over_step
from livemon.series.bins import HISTORY_S

T = np.arange(-HISTORY_S + 1.0, 1.0)
SD = 0.4
NOISE = np.full(len(LAGS_S), SD * SD)


def seen(level: np.ndarray, seed: int = 0) -> tuple[np.ndarray, Readings]:
    window = level + np.random.default_rng(seed).normal(0, SD, HISTORY_S)
    return window, read(MUSCLE[0], window, MUSCLE[0].errors(NOISE))


def ramp(age_s: float, rate_pct_per_min: float) -> np.ndarray:
    return 60 - rate_pct_per_min / 60 * np.maximum(T + age_s, 0)


def onset(age_s: float, drop_pct: float, tau_s: float) -> np.ndarray:
    return 60 - drop_pct * (1 - np.exp(-np.maximum(T + age_s, 0) / tau_s))


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize(("age_s", "rate"), [(20, 12.0), (35, 6.0), (72, 3.0)])
def test_age_and_rate_of_a_fall(age_s: int, rate: float, seed: int) -> None:
    _, readings = seen(ramp(age_s, rate), seed)
    fall = best_fall(readings, HISTORY_S, 0.4)

    assert fall is not None
    assert fall.certainty > 5
    assert fall.age_s == pytest.approx(age_s, rel=0.45)
    assert fall.rate_pct_per_min == pytest.approx(rate, rel=0.45)


@pytest.mark.parametrize("seed", range(5))
def test_level_noise_is_no_certain_fall(seed: int) -> None:
    _, readings = seen(np.full(HISTORY_S, 60.0), seed)
    fall = best_fall(readings, HISTORY_S, 0.4)

    assert fall is not None
    assert fall.certainty < 3.1


@pytest.mark.parametrize("seed", range(5))
def test_a_ramp_leads_over_a_step_and_a_step_over_a_ramp(seed: int) -> None:
    fallen, _ = seen(ramp(30, 8.0), seed)
    slipped, _ = seen(np.where(T > -15, 56.0, 60.0), seed)

    assert lead_over_step(fallen, NOISE, 62, 0) > 2
    assert lead_over_step(slipped, NOISE, 62, 0) < -2


@pytest.mark.parametrize("seed", range(5))
def test_a_ramp_leads_over_an_onset_and_a_dying_onset_does_not(seed: int) -> None:
    _, falling = seen(ramp(35, 10.0), seed)
    _, dying = seen(onset(45, 9.0, 14.0), seed)
    fall, drop = best_fall(falling, HISTORY_S, 0.4), best_fall(dying, HISTORY_S, 0.4)

    assert fall is not None
    assert drop is not None
    assert lead_over_onset(falling, fall) > 0.3 > lead_over_onset(dying, drop)


def test_a_short_history_gives_nothing() -> None:
    _, readings = seen(ramp(30, 8.0))

    assert best_fall(readings, 19, 0.4) is None


def test_a_short_span_finds_the_fall_that_an_onset_hides_from_a_long_one() -> None:
    """An onset 100 s ago, level since, and a fall for the last 20 s."""
    level = onset(100, 15.0, 8.0) - 12.0 / 60 * np.maximum(T + 20, 0)
    _, readings = seen(level)
    ages = {f.span_s: f.age_s for f in falls_after_levels(readings, HISTORY_S, 0.4)}

    assert ages[62] == pytest.approx(20, abs=5)
    assert ages[120] > 60
