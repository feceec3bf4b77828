"""A bout's curve, its time counted from the bout's start, thinned out, its gaps left open."""

from dataclasses import dataclass
from math import ceil, floor
from typing import Final

import numpy as np
from numpy.typing import NDArray

from livemon.analyse.bins import bin_means
from livemon.analyse.bout import Bout
from livemon.analyse.series import LONGEST_STEP_S, Floats, Series

BEFORE_S: Final = 60.0
AFTER_S: Final = 120.0
_FINEST_S: Final = 2.0  #: takes out most of cadence and keeps the onset's shape
_MOST_POINTS: Final = 900


@dataclass(frozen=True, slots=True, eq=False)
class Trace:
    """A curve.

    Attributes:
        t_s: seconds from the bout's start, rising, shape (n,).
        values: finite, shape (n,).
        joined: whether each point is joined to the next, shape (n,).
        step_s: how far apart the points are, gaps aside.
    """

    t_s: Floats
    values: Floats
    joined: NDArray[np.bool_]
    step_s: float


def trace(series: Series, bout: Bout, shift: float = 0.0) -> Trace:
    """Return the curve from a minute before the bout to two minutes after it, less `shift`."""
    start_s, end_s = bout.start_s - BEFORE_S, bout.end_s + AFTER_S
    step_s = max((end_s - start_s) / _MOST_POINTS, _FINEST_S)
    bins = bin_means(series, start_s, end_s, step_s)
    t_s = np.asarray(bins.t_s - bout.start_s, dtype=np.float64)
    near = np.diff(t_s) <= max(LONGEST_STEP_S, 2 * step_s)
    joined = np.concatenate((near, [False])) if len(t_s) else np.zeros(0, dtype=np.bool_)
    return Trace(t_s, np.asarray(bins.values - shift, dtype=np.float64), joined, step_s)


def value_at(shown: Trace, t_s: float) -> float | None:
    """Return the curve's value at a time; None in a gap and beyond its ends."""
    if len(shown.t_s) == 0:
        return None
    right = int(np.searchsorted(shown.t_s, t_s))
    near = min(max(right, 1), len(shown.t_s)) - 1
    if right < len(shown.t_s) and shown.t_s[right] - t_s < t_s - shown.t_s[near]:
        near = right
    if abs(float(shown.t_s[near]) - t_s) > max(LONGEST_STEP_S / 2, shown.step_s):
        return None
    return float(shown.values[near])


def round_range(values: list[float], step: float, least: float) -> tuple[float, float] | None:
    """Return round ends around all values, at least `least` apart; None if there are none."""
    if not values:
        return None
    air = step / 5
    low = floor((min(values) - air) / step) * step
    high = ceil((max(values) + air) / step) * step
    while high - low < least:
        high += step
        if high - low < least:
            low -= step
    return low, high
