"""Thin a series out to what a picture can show, without hiding its gaps."""

from collections.abc import Sequence
from typing import Final

from livemon.analyse.bins import bin_means
from livemon.analyse.series import LONGEST_STEP_S, Series
from livemon.report.svg import Point, Scale

_FINEST_S: Final = 2.0
_MOST_POINTS: Final = 500


def pieces(series: Series, start_s: float, end_s: float, x: Scale, y: Scale) -> list[list[Point]]:
    """Return the trace between two times as unbroken pieces in picture units."""
    width_s = max((end_s - start_s) / _MOST_POINTS, _FINEST_S)
    if end_s - start_s < width_s:
        return []
    bins = bin_means(series, start_s, end_s, width_s)
    longest_s = max(LONGEST_STEP_S, 2 * width_s)
    found: list[list[Point]] = []
    last_s = float("-inf")
    for t_s, value in zip(bins.t_s.tolist(), bins.values.tolist(), strict=True):
        if t_s - last_s > longest_s:
            found.append([])
        found[-1].append((x(t_s), y(value)))
        last_s = t_s
    return found


def extent(
    series: Sequence[Series], start_s: float, end_s: float, *, least: float
) -> tuple[float, float] | None:
    """Return the lowest and highest value of several series, at least so far apart."""
    parts = [s.between(start_s, end_s).values for s in series]
    filled = [p for p in parts if len(p)]
    if not filled:
        return None
    low, high = min(float(p.min()) for p in filled), max(float(p.max()) for p in filled)
    spare = max(least - (high - low), 0.0) / 2
    return low - spare, high + spare
