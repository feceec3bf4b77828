"""The value range of a chart: round, and calm, so that the picture doesn't breathe."""

import math
from typing import Final

import numpy as np

from livemon.series.ring import Trail
from livemon.view.model import ChartModel, CurveModel

_NS_PER_S: Final = 1_000_000_000
#: Steps of ten points of SmO2, at least three of them: less would blow noise up to a trend.
_SMO2_STEP: Final = 10
_SMO2_LEAST: Final = 30
_SMO2_TOP: Final = 100
_BPM_STEP: Final = 20
_BPM_LEAST: Final = 60
#: What is shown before anything has been measured.
_SMO2_EMPTY: Final = (30.0, 80.0)
_BPM_EMPTY: Final = (80.0, 180.0)


def smo2_range(chart: ChartModel) -> tuple[float, float]:
    """Return lower and upper end of the SmO2 axis, in %."""
    seen = [extremes(curve.trail, chart) for curve in chart.sites]
    ends = [end for pair in seen if pair for end in pair]
    ends += [curve.own_low for curve in chart.sites if curve.own_low is not None]
    if not ends:
        return _SMO2_EMPTY
    low, high = _rounded(min(ends), max(ends), _SMO2_STEP, _SMO2_LEAST)
    return max(0.0, low), min(float(_SMO2_TOP), high)


def bpm_range(chart: ChartModel) -> tuple[float, float]:
    """Return lower and upper end of the heart-rate axis, in bpm."""
    ends = list(extremes(chart.heart_rate.trail, chart) or ())
    ends += list(chart.band or ())
    if not ends:
        return _BPM_EMPTY
    return _rounded(min(ends), max(ends), _BPM_STEP, _BPM_LEAST)


def ticks(low: float, high: float, *, most: int) -> tuple[float, ...]:
    """Return round values inside the range, no more than `most` of them."""
    if most < 1:
        return ()
    step = next(
        (step for step in (10, 20, 40, 50, 100) if (high - low) / step <= most),
        100,
    )
    first = math.ceil(low / step) * step
    return tuple(float(value) for value in range(int(first), int(high) + 1, step))


def extremes(trail: Trail, chart: ChartModel) -> tuple[float, float] | None:
    """Return the lowest and highest value inside the window; None where there is none."""
    t_ns, values = trail.read()
    begin_ns = int((chart.now_s - chart.window_s) * _NS_PER_S)
    inside = values[np.searchsorted(t_ns, begin_ns) :]
    known = inside[np.isfinite(inside)]
    if known.size == 0:
        return None
    return float(known.min()), float(known.max())


def heading(curve: CurveModel) -> float | None:
    """Return the value at which a curve's name should stand; None for a curve without any."""
    if curve.last is not None:
        return curve.last
    _, values = curve.trail.read()
    known = values[np.isfinite(values)]
    return float(known[-1]) if known.size else None


def _rounded(low: float, high: float, step: int, least: int) -> tuple[float, float]:
    """Round outwards to whole steps, with a little air, and not narrower than `least`."""
    air = step / 5
    bottom = math.floor((low - air) / step) * step
    top = math.ceil((high + air) / step) * step
    while top - bottom < least:
        top += step
        if top - bottom < least:
            bottom -= step
    return float(bottom), float(top)
