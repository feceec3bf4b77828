"""The invented noise against what theory says of it."""

import numpy as np
import pytest
from scipy.signal import welch
from statsmodels.tsa.stattools import acf

from livemon.synthetic.beats import WANDER_BPM, beats, uneven
from livemon.synthetic.noise import (
    bursts,
    happenings,
    quantised,
    ripple,
    slips,
    smoothed,
    spikes,
    wander,
)


@pytest.mark.parametrize(("step_s", "tau_s"), [(1.0, 5.0), (0.1, 5.0), (2.0, 12.0)])
def test_wander_is_ar1(step_s: float, tau_s: float) -> None:
    """Autocorrelation by statsmodels; theory: exp(-lag / tau) (Brockwell and Davis)."""
    t_s = np.arange(200_000) * step_s
    x = wander(np.random.default_rng(1), t_s, 1.5, tau_s)

    measured = acf(x, nlags=5, fft=True)
    assert measured == pytest.approx(np.exp(-np.arange(6) * step_s / tau_s), abs=0.03)
    assert x.std() == pytest.approx(1.5, rel=0.05)


def test_wander_keeps_its_size_where_readings_come_unevenly() -> None:
    rng = np.random.default_rng(2)
    t_s = np.cumsum(rng.exponential(2.0, 100_000))

    assert wander(rng, t_s, 1.0, 5.0).std() == pytest.approx(1.0, rel=0.03)


def test_wander_makes_slopes_scatter_as_theory_says() -> None:
    """Published for this project's kind of noise: SD 1, tau 5 s gives 1.2 %/min over 60 s."""
    t_s = np.arange(600_000) * 1.0
    x = wander(np.random.default_rng(3), t_s, 1.0, 5.0).reshape(-1, 60)
    t_min = (np.arange(60) - 29.5) / 60

    slopes = (x * t_min).sum(axis=1) / (t_min**2).sum()
    assert slopes.std() == pytest.approx(1.2, rel=0.05)


def test_ripple_shows_at_its_cadence_or_at_its_alias() -> None:
    for rate_hz, shown_hz in ((10.0, 1.4), (1.0, 0.4)):
        t_s = np.arange(20_000) / rate_hz
        x = ripple(np.random.default_rng(4), t_s, 0.8, 1.4)
        frequency, power = welch(x, rate_hz, nperseg=256)
        assert frequency[power.argmax()] == pytest.approx(shown_hz, abs=0.06)
        assert x.std() == pytest.approx(0.8, rel=0.05)


def test_smoothing_answers_a_step_with_an_exponential() -> None:
    t_s = np.arange(0, 60, 0.1)
    out = smoothed(t_s, np.where(t_s >= 10, 1.0, 0.0), 5.0)

    assert out[150] == pytest.approx(1 - np.exp(-1), abs=0.01)
    assert smoothed(t_s, np.full(len(t_s), 63.0), 5.0) == pytest.approx(63.0)


def test_rounding_knows_its_step() -> None:
    values = np.array([61.24, 61.26, 61.75])

    assert quantised(values, 0.5) == pytest.approx([61.0, 61.5, 62.0])
    assert quantised(values, 0.0) is values


def test_slips_stay_and_bursts_pass() -> None:
    t_s = np.arange(100.0)

    assert slips(t_s, ((20.0, -5.0), (60.0, 2.0)))[[19, 20, 59, 60]].tolist() == [0, -5, -5, -3]
    knocked = bursts(np.random.default_rng(5), t_s, ((30.0, 40.0),), 5.0)
    assert np.flatnonzero(knocked).tolist() == list(range(30, 40))


@pytest.mark.parametrize("rate_hz", [0.5, 10.0])
def test_spikes_come_as_often_at_any_rate(rate_hz: float) -> None:
    t_s = np.arange(0, 60_000, 1 / rate_hz)
    hit = spikes(np.random.default_rng(6), t_s, 2.0, 15.0) != 0

    assert hit.sum() == pytest.approx(2000, rel=0.1)


def test_happenings_are_a_poisson_process() -> None:
    rng = np.random.default_rng(7)
    counts = [len(happenings(rng, 600.0, 1.0)) for _ in range(2000)]

    assert np.mean(counts) == pytest.approx(10.0, rel=0.05)
    assert np.var(counts) == pytest.approx(10.0, rel=0.1)


def test_beats_add_up_to_the_heart_rate() -> None:
    t_s = np.arange(0, 600, 0.1)
    at_s = beats(np.random.default_rng(8), t_s, np.full(len(t_s), 120.0))

    assert len(at_s) == pytest.approx(1200, abs=2)
    assert np.all(np.diff(at_s) >= 0)


def test_beat_jitter_halves_for_every_20_bpm() -> None:
    """Mongin et al. 2022, PLoS One 17:e0273981."""
    t_s = np.arange(0, 6000, 0.1)
    spread = []
    for bpm in (100.0, 120.0, 140.0):
        at_s = beats(np.random.default_rng(9), t_s, np.full(len(t_s), bpm))
        spread.append(np.diff(at_s).std())

    assert spread[0] / spread[1] == pytest.approx(2.0, rel=0.05)
    assert spread[1] / spread[2] == pytest.approx(2.0, rel=0.05)


@pytest.mark.parametrize(("window_s", "published"), [(60, 7.6), (120, 2.5), (180, 1.5)])
def test_steady_heart_rate_scatters_as_on_a_real_ride(window_s: int, published: float) -> None:
    """95 % of |slopes| on a real half-hour steady ride at 104 bpm (open record, hrv package)."""
    t_s = np.arange(200_000) * 1.0
    bpm = uneven(np.random.default_rng(10), t_s, np.full(len(t_s), 104.0), WANDER_BPM)
    windows = bpm[: len(bpm) // window_s * window_s].reshape(-1, window_s)
    t_min = (np.arange(window_s) - (window_s - 1) / 2) / 60

    slopes = (windows * t_min).sum(axis=1) / (t_min**2).sum()
    assert np.quantile(np.abs(slopes), 0.95) == pytest.approx(published, rel=0.2)


def test_a_heart_that_works_hard_runs_like_a_clock() -> None:
    """SD of RR intervals halves with every 20 bpm (Mongin et al. 2022), also by the wander."""
    t_s = np.arange(100_000) * 1.0
    spread_s = []
    for level in (104.0, 124.0, 144.0):
        bpm = uneven(np.random.default_rng(11), t_s, np.full(len(t_s), level), 1.0)
        spread_s.append((60 / bpm).std())

    assert spread_s[0] / spread_s[1] == pytest.approx(2.0, rel=0.02)
    assert spread_s[1] / spread_s[2] == pytest.approx(2.0, rel=0.02)
