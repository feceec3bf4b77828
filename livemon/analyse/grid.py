"""A trace on whole seconds, and two ways to smooth it.

Local quadratics keep the height of dips and peaks that a moving mean cuts off (Savitzky & Golay
1964, Analytical Chemistry 36:1627); moving means say what was held for so long.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from livemon.analyse.series import Floats, Series

STEP_S: Final = 1.0


@dataclass(frozen=True, slots=True, eq=False)
class Grid:
    """Values one second apart.

    Attributes:
        t_s: times, shape (n,).
        values: shape (n,); without meaning where not known.
        known: where there is a value, shape (n,).
    """

    t_s: Floats
    values: Floats
    known: NDArray[np.bool_]


def on_grid(series: Series, start_s: float, end_s: float) -> Grid:
    """Put samples on the seconds from start to end, both included.

    Several samples within half a second of a grid point are averaged; one or none, and the trace
    is read off between its neighbours. Gaps stay unknown.
    """
    count = int((end_s - start_s) / STEP_S + 1e-9) + 1
    t_s: Floats = start_s + STEP_S * np.arange(count, dtype=np.float64)
    part = series.between(start_s - STEP_S / 2, start_s + STEP_S * (count - 0.5))
    number = ((part.t_s - start_s) / STEP_S + 0.5).astype(np.int64)
    samples = np.bincount(number, minlength=count)
    sums = np.bincount(number, weights=part.values, minlength=count)
    if len(series) == 0:
        return Grid(t_s, np.zeros(count), np.zeros(count, dtype=np.bool_))
    between = np.interp(t_s, series.t_s, series.values)
    values = np.where(samples > 1, sums / np.maximum(samples, 1), between)
    known = (t_s >= series.t_s[0]) & (t_s <= series.t_s[-1]) | (samples > 0)
    for gap_start, gap_end in series.gaps:
        known &= ~((t_s > gap_start) & (t_s < gap_end)) | (samples > 0)
    return Grid(t_s, values, known)


def moving_mean(grid: Grid, points: int) -> Grid:
    """Return means of `points` neighbours; the time is the middle of each."""
    if len(grid.t_s) < points:
        return Grid(grid.t_s[:0], grid.values[:0], grid.known[:0])
    sums = np.cumsum(np.concatenate(([0.0], np.where(grid.known, grid.values, 0.0))))
    counts = np.cumsum(np.concatenate(([0], grid.known.astype(np.int64))))
    values = (sums[points:] - sums[:-points]) / points
    known = counts[points:] - counts[:-points] == points
    middle = (grid.t_s[points - 1 :] + grid.t_s[: len(grid.t_s) - points + 1]) / 2
    return Grid(middle, values, known)


def local_quadratic(grid: Grid, half: int) -> Grid:
    """Return the value at the middle of a parabola through `2 half + 1` neighbours."""
    points = 2 * half + 1
    if len(grid.t_s) < points:
        return Grid(grid.t_s[:0], grid.values[:0], grid.known[:0])
    offsets = range(-half, half + 1)
    s2, s4 = sum(k**2 for k in offsets), sum(k**4 for k in offsets)
    count = len(grid.t_s) - points + 1
    values, known = np.zeros(count), np.ones(count, dtype=np.bool_)
    for i, k in enumerate(offsets):
        values += (s4 - s2 * k * k) / (points * s4 - s2 * s2) * grid.values[i : i + count]
        known &= grid.known[i : i + count]
    return Grid(grid.t_s[half : half + count], values, known)
