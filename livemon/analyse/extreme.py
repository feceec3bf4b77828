"""The lowest or highest level that a trace held for half a minute, freed of the luck of choosing.

A fixed window at the end of a bout misses nadirs and peaks; a rolling one finds them (Rodriguez et
al. 2018, Scand J Med Sci Sports). But the lowest of many noisy means lies below the true lowest, by
about as much as the smallest of so many independent draws, where so many is the time spent near the
lowest over the window's length. That much is given back (Blom's formula for expected extremes,
1958, Statistical Estimates and Transformed Beta-Variables).
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from livemon.analyse.bins import BIN_S
from livemon.analyse.correlated import Noise
from livemon.analyse.grid import Grid, moving_mean
from livemon.analyse.measure import Measure, around
from livemon.analyse.student import student_quantile

HELD_S: Final = 30  #: long enough for a mean that noise doesn't make, short enough for a dip
_NEAR: Final = 2.0  # standard errors within which a mean can't be told from the extreme
_NORMAL: Final = 1e6  # degrees of freedom


@dataclass(frozen=True, slots=True)
class Extreme:
    """A level and when it was held.

    Attributes:
        level: the extreme.
        middle_s: the middle of the half minute that was lowest or highest.
        from_s: the earliest time that can't be told from it.
        to_s: the latest.
    """

    level: Measure
    middle_s: float
    from_s: float
    to_s: float


def lowest_held(trace: Grid, noise: Noise, unit: str) -> Extreme | None:
    """Return the lowest half-minute mean; None when no half minute is whole."""
    return _lowest(trace, noise, unit, 1.0)


def highest_held(trace: Grid, noise: Noise, unit: str) -> Extreme | None:
    """Return the highest half-minute mean; None when no half minute is whole."""
    return _lowest(Grid(trace.t_s, -trace.values, trace.known), noise, unit, -1.0)


def _lowest(trace: Grid, noise: Noise, unit: str, sign: float) -> Extreme | None:
    """Find the lowest; `sign` is -1 for a trace that stands on its head."""
    means = moving_mean(trace, HELD_S)
    if not means.known.any():
        return None
    t_s, values = means.t_s[means.known], means.values[means.known]
    at = int(np.argmin(values))
    error = noise.error_of_mean(round(HELD_S / BIN_S))
    near = np.flatnonzero(values <= values[at] + _NEAR * error)
    draws = 1 + (len(near) - 1) / HELD_S
    luck = student_quantile(max((draws - 0.375) / (draws + 0.25), 0.5), _NORMAL) * error
    level = around(sign * (float(values[at]) + luck), error, noise.degrees, unit)
    return Extreme(level, float(t_s[at]), float(t_s[near[0]]), float(t_s[near[-1]]))
