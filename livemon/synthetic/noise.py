"""What sensors add to the truth: noise, ripple, bursts, spikes, slips, smoothing, rounding.

Chance is handed in. Each function takes the sample times in seconds, so any rate and any jitter
will do, and each one is a plain addition or transformation: a sensor is a chain of them.
"""

from itertools import accumulate
from typing import Final

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

Floats = NDArray[np.float64]

Spans = tuple[tuple[float, float], ...]  #: (from, to) in seconds

#: Pedalling, stepping and lifting are never quite even: the phase wanders by this, per √second.
_UNEVEN_RAD: Final = 0.25


def wander(rng: Generator, t_s: Floats, sd: float, tau_s: float) -> Floats:
    """Return noise whose autocorrelation falls as exp(-lag / tau): AR(1) at even steps."""
    keep = np.exp(-np.diff(t_s, prepend=t_s[0]) / tau_s)
    fresh = rng.standard_normal(len(t_s)) * sd
    fresh[1:] *= np.sqrt(1 - keep[1:] ** 2)
    return _recursive(keep, fresh)


def ripple(rng: Generator, t_s: Floats, sd: float, cadence_hz: float) -> Floats:
    """Return a wave at an uneven cadence. A slow sensor shows it at another, lower frequency."""
    steps = np.sqrt(np.diff(t_s, prepend=t_s[0])) * _UNEVEN_RAD
    phase = rng.uniform(0, 2 * np.pi) + np.cumsum(steps * rng.standard_normal(len(t_s)))
    wave: Floats = sd * np.sqrt(2) * np.sin(2 * np.pi * cadence_hz * t_s + phase)
    return wave


def bursts(rng: Generator, t_s: Floats, spans_s: Spans, sd: float) -> Floats:
    """Return strong noise inside `spans_s` (from, to): the sensor is being knocked about."""
    inside = within(t_s, spans_s)
    return np.where(inside, sd * rng.standard_normal(len(t_s)), 0.0)


def spikes(rng: Generator, t_s: Floats, per_min: float, size: float) -> Floats:
    """Return single readings far off, up or down, `per_min` of them on average."""
    chance = np.clip(np.diff(t_s, prepend=t_s[0]) * per_min / 60, 0, 1)
    hit = rng.random(len(t_s)) < chance
    return np.where(hit, size * rng.choice((-1.0, 1.0), len(t_s)) * rng.uniform(0.5, 1.5), 0.0)


def slips(t_s: Floats, steps: tuple[tuple[float, float], ...]) -> Floats:
    """Return a level that changes by `(when, by)` and stays: the sensor sits elsewhere now."""
    total = np.zeros(len(t_s))
    for when_s, by in steps:
        total[t_s >= when_s] += by
    return total


def smoothed(t_s: Floats, values: Floats, tau_s: float) -> Floats:
    """Return what a device with a first-order filter of this time constant would show."""
    if tau_s <= 0:
        return values
    keep = np.exp(-np.diff(t_s, prepend=t_s[0]) / tau_s)
    keep[0] = 0.0
    return _recursive(keep, (1 - keep) * values)


def quantised(values: Floats, step: float) -> Floats:
    """Round to whole steps; a step of 0 leaves the values alone."""
    return values if step <= 0 else np.round(values / step) * step


def happenings(rng: Generator, seconds: float, per_min: float) -> tuple[float, ...]:
    """Return moments that come `per_min` on average, independent of each other (Poisson)."""
    return tuple(sorted(rng.uniform(0, seconds, rng.poisson(seconds * per_min / 60)).tolist()))


def within(t_s: Floats, spans_s: Spans) -> NDArray[np.bool_]:
    """Say for each time whether it lies in one of the spans (from, to)."""
    inside = np.zeros(len(t_s), dtype=bool)
    for begin_s, end_s in spans_s:
        inside |= (t_s >= begin_s) & (t_s < end_s)
    return inside


def _recursive(keep: Floats, fresh: Floats) -> Floats:
    """Return y[i] = keep[i] y[i-1] + fresh[i]."""
    pairs = zip(keep.tolist(), fresh.tolist(), strict=True)
    first = next(pairs, None)
    if first is None:
        return fresh
    return np.fromiter(
        accumulate(pairs, lambda y, kf: kf[0] * y + kf[1], initial=first[1]), np.float64
    )
