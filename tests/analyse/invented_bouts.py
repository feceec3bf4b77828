"""Invented SmO2 with known truth, for tests only: no athlete ever looked like this.

Exponential fall after a delay, a straight trend, exponential recovery with overshoot; noise that
hangs together over 5 s, and white noise on top.
"""

from dataclasses import dataclass
from math import exp, sqrt

import numpy as np

from livemon.analyse.bout import Bout, Intensity
from livemon.analyse.series import Floats, Series

HOLDS_W = 250.0  #: where the invented slopes cross zero
REST_PCT = 68.0


def correlated_noise(rng: np.random.Generator, n: int, tau_s: float, sd: float) -> Floats:
    """First-order autoregression at 1 Hz."""
    r = exp(-1 / tau_s)
    steps = rng.normal(size=n) * sd * sqrt(1 - r * r)
    noise = np.empty(n)
    noise[0] = rng.normal() * sd
    for i in range(1, n):
        noise[i] = r * noise[i - 1] + steps[i]
    return noise


@dataclass(frozen=True)
class InventedSession:
    """A session with its truth beside it."""

    bouts: tuple[Bout, ...]
    smo2: Series
    true_smo2: Series


def invented_session(
    seed: int,
    powers_w: tuple[float, ...] = (210.0, 235.0, 260.0, 290.0),
    work_s: int = 300,
    rest_s: int = 240,
) -> InventedSession:
    """Invent constant-load bouts whose slope is 0.04 (250 - P) %/min."""
    rng = np.random.default_rng(seed)
    n = 120 + len(powers_w) * (work_s + rest_s)
    truth = np.full(n, REST_PCT)
    bouts = []
    for i, power in enumerate(powers_w):
        start = 120 + i * (work_s + rest_s)
        end = start + work_s
        since = np.clip(np.arange(work_s) - rng.uniform(5, 12), 0, None)
        drop, tau = rng.uniform(8, 25), rng.uniform(6, 15)
        trend = 0.04 * (HOLDS_W - power) * since / 60
        truth[start:end] = REST_PCT - drop * (1 - np.exp(-since / tau)) + trend
        back = np.arange(rest_s)
        last = truth[end - 1]
        peak = REST_PCT + rng.uniform(0, 6)
        truth[end : end + rest_s] = last + (peak - last) * (1 - np.exp(-back / rng.uniform(10, 30)))
        settling = slice(end + rest_s * 3 // 4, end + rest_s)
        above = truth[settling] - REST_PCT
        truth[settling] -= above * np.linspace(0, 1, len(above))
        bouts.append(Bout(i + 1, start, end, "ride", intensity=Intensity(power, "W")))
    t_s = np.arange(n, dtype=float)
    noise = correlated_noise(rng, n, 5, 1.0) + 0.5 * rng.normal(size=n)
    return InventedSession(tuple(bouts), Series.of(t_s, truth + noise), Series.of(t_s, truth))
