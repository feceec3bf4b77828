"""Thin a curve out to what a screen can show: the lowest and the highest of each pixel column.

Drawing a thousand pixels never needs more than two thousand points, and no peak gets lost.
"""

import numpy as np
from numpy.typing import NDArray

Piece = tuple[NDArray[np.float64], NDArray[np.float64]]


def pieces(
    t_ns: NDArray[np.int64],
    values: NDArray[np.float64],
    *,
    begin_ns: int,
    end_ns: int,
    columns: int,
) -> list[Piece]:
    """Return the curve between two times as unbroken pieces.

    Args:
        t_ns: times, shape (n,), in order.
        values: shape (n,); NaN breaks the line.
        begin_ns: left edge of the picture.
        end_ns: its right edge.
        columns: how many pixel columns lie between `begin_ns` and `end_ns`.

    Returns:
        For each piece (x, y): x in columns from `begin_ns`, y in the unit of `values`.
    """
    first, last = np.searchsorted(t_ns, (begin_ns, end_ns + 1))
    t, y = t_ns[first:last], values[first:last]
    if y.size == 0 or columns < 1:
        return []
    x = np.asarray((t - begin_ns) * (columns / (end_ns - begin_ns)), dtype=np.float64)
    known = np.isfinite(y)
    edges = np.flatnonzero(np.diff(known)) + 1
    starts, stops = np.r_[0, edges], np.r_[edges, y.size]
    return [
        _thin(x[start:stop], y[start:stop])
        for start, stop in zip(starts, stops, strict=True)
        if known[start]
    ]


def _thin(x: NDArray[np.float64], y: NDArray[np.float64]) -> Piece:
    """Keep the lowest and the highest of each column, in the order in which they came."""
    column = np.floor(x).astype(np.int64)
    starts = np.flatnonzero(np.r_[True, np.diff(column) > 0])
    if x.size <= 2 * starts.size:
        return x, y
    low, high = np.minimum.reduceat(y, starts), np.maximum.reduceat(y, starts)
    rising = y[starts] <= y[np.r_[starts[1:], y.size] - 1]
    thinned = np.empty(2 * starts.size)
    thinned[0::2] = np.where(rising, low, high)
    thinned[1::2] = np.where(rising, high, low)
    # The piece ends where it really ends: the newest value must not look higher or lower.
    return np.r_[np.repeat(x[starts], 2), x[-1]], np.r_[thinned, y[-1]]
