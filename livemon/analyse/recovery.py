"""How SmO2 came back after a bout: half-recovery time, overshoot, rate of reoxygenation.

The half-recovery time repeats better than the time constant of a fitted exponential (within one
session ICC .77 against .72, between sessions .58 against -.21: Research Directs in Health Sciences
2022, n = 17), so no exponential is fitted here.
"""

from dataclasses import dataclass
from math import hypot
from typing import Final

import numpy as np

from livemon.analyse.bins import bin_means
from livemon.analyse.correlated import Noise
from livemon.analyse.extreme import highest_held
from livemon.analyse.grid import Grid, local_quadratic, on_grid
from livemon.analyse.measure import Measure, around, difference, standard_error, unknown
from livemon.analyse.series import Series
from livemon.analyse.student import student_quantile
from livemon.analyse.windows import ENOUGH_COVERED, Window

_END_OF_WORK_S: Final = 15.0
_SMALLEST_RISE_PCT: Final = 5.0  # less can't be timed
_HALF_SMOOTH: Final = 4  # a parabola through nine seconds
_ONE_SIDED: Final = 0.95


@dataclass(frozen=True, slots=True)
class Recovery:
    """What followed the work.

    Attributes:
        half_time: from the end of work to the first crossing of the middle between the last 15 s
            of work and the highest half minute of the next three minutes.
        overshoot: that highest level less the level before the bout, in points.
        rate: mean rise until the half time.
    """

    half_time: Measure
    overshoot: Measure
    rate: Measure


def no_recovery(reason: str) -> Recovery:
    """Return a recovery without figures."""
    return Recovery(unknown("s", reason), unknown("%", reason), unknown("%/s", reason))


def judge_recovery(
    series: Series, window: Window | None, baseline: Measure, noise: Noise | None
) -> Recovery:
    """Judge the rest in `window`, which begins where the work ended."""
    if window is None:
        return no_recovery("less than a minute of rest after the bout")
    work = Window(window.start_s - _END_OF_WORK_S, window.start_s)
    enough = all(series.covered(w.start_s, w.end_s) >= ENOUGH_COVERED for w in (work, window))
    if noise is None or not enough:
        return no_recovery("too few samples around the end of the bout")
    bins = bin_means(series, work.start_s, work.end_s)
    mean = float(bins.values.mean())
    bottom = around(mean, noise.error_of_mean(len(bins)), noise.degrees, "%")
    peak = highest_held(on_grid(series, window.start_s, window.end_s), noise, "%")
    if peak is None:
        return no_recovery("no half minute without a gap")
    overshoot = difference(peak.level, baseline)
    rise = difference(peak.level, bottom)
    error, large = standard_error(rise), rise.clearly_above_zero
    if error is None or rise.value is None or not large or rise.value < _SMALLEST_RISE_PCT:
        reason = "SmO2 rose by less than five points: nothing to time"
        return Recovery(unknown("s", reason), overshoot, unknown("%/s", reason))
    # Both ends count half in the middle; the trace itself is off by the noise of a short mean.
    off = student_quantile(_ONE_SIDED, noise.degrees) * hypot(error / 2, noise.sd)
    half_time = _half_time(series, window, mean + rise.value / 2, off)
    return Recovery(half_time, overshoot, _rate(rise, half_time))


def _half_time(series: Series, window: Window, middle: float, off: float) -> Measure:
    lead_s = float(_HALF_SMOOTH)
    trace = local_quadratic(on_grid(series, window.start_s - lead_s, window.end_s), _HALF_SMOOTH)
    crossings = [_first_crossing(trace, middle + e) for e in (0.0, -off, off)]
    value, low, high = (None if c is None else c - window.start_s for c in crossings)
    if value is None or high is None:
        return unknown("s", "SmO2 didn't clearly pass the half-way level")
    return Measure(value, 0.0 if low is None else low, high, "s")


def _first_crossing(trace: Grid, level: float) -> float | None:
    """Return when the trace first passes `level` upwards, between two points by a line."""
    v = trace.values
    if len(v) and trace.known[0] and v[0] >= level:
        return float(trace.t_s[0])
    both = trace.known[1:] & trace.known[:-1]
    up = np.flatnonzero(both & (v[:-1] < level) & (v[1:] >= level))
    if len(up) == 0:
        return None
    i = int(up[0])
    share = (level - float(v[i])) / (float(v[i + 1]) - float(v[i]))
    return float(trace.t_s[i]) + share * float(trace.t_s[i + 1] - trace.t_s[i])


def _rate(rise: Measure, half_time: Measure) -> Measure:
    values = (rise.value, rise.low, rise.high, half_time.value, half_time.low, half_time.high)
    up, up_low, up_high, t, t_low, t_high = values
    if (
        up is None or up_low is None or up_high is None
        or t is None or t_low is None or t_high is None or t_low <= 0
    ):  # fmt: skip
        return unknown("%/s", half_time.reason or "the half-recovery time may be zero")
    # Errors of a quotient add as shares (to first order, rise and time taken as independent).
    rate = up / 2 / t
    down = hypot(1 - up_low / up, 1 - t / t_high)
    above = hypot(up_high / up - 1, t / t_low - 1)
    return Measure(rate, rate * (1 - down), rate * (1 + above), "%/s")
