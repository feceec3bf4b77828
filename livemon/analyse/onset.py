"""How fast SmO2 fell when work began: a delay, then one exponential.

y(t) = y0 + A (1 - exp(-(t - delay) / tau)) from the delay on, y0 before it; the usual form for the
start of exercise (DeLorey et al. 2003, J Appl Physiol 95:113). A trace that doesn't have this shape
gets a reason instead of numbers.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import exp, fsum, sqrt
from typing import Final

import numpy as np

from livemon.analyse.bins import Bins, bin_means
from livemon.analyse.bout import Bout
from livemon.analyse.curve import Curve, fit_curve
from livemon.analyse.line import fit_line
from livemon.analyse.measure import Measure, around, unknown
from livemon.analyse.series import Floats, Series
from livemon.analyse.windows import ENOUGH_COVERED

_BEFORE_S: Final = 20.0
_LONGEST_S: Final = 120.0  # later changes belong to the late part, not to the onset
_SHORTEST_S: Final = 60.0
_BIN_S: Final = 2.0

# Searched, not assumed: published delays are 9 to 13 s and time constants 9 to 50 s.
_DELAYS_S: Final = (0.0, 5.0, 10.0, 15.0, 20.0, 30.0)
_TAUS_S: Final = (3.0, 6.0, 10.0, 16.0, 25.0, 40.0)

NO_FALL: Final = "no fall of five points at the start"
_LEAST_EXPLAINED: Final = 0.8
_SMALLEST_DROP_PCT: Final = 5.0
_SHORTEST_TAU_S: Final = 1.0
_LONGEST_TAU_S: Final = 60.0  # beyond half the window the plateau isn't seen
_LONGEST_DELAY_S: Final = 45.0
_WIDEST_ERROR: Final = 0.35  # of tau, as a share of it


@dataclass(frozen=True, slots=True)
class Onset:
    """The fall at the start of work.

    Attributes:
        delay: from the start to the beginning of the fall.
        time_constant: in which 63 % of the fall happens.
        drop: size of the exponential; positive is a fall.
    """

    delay: Measure
    time_constant: Measure
    drop: Measure


def no_onset(reason: str) -> Onset:
    """Return an onset without figures."""
    return Onset(unknown("s", reason), unknown("s", reason), unknown("%", reason))


def delayed_exponential(p: Sequence[float], t: float) -> tuple[float, Sequence[float]]:
    """Return the value of (y0, A, delay, tau) at t seconds, and its gradient."""
    level, change, delay, tau = p
    since = t - delay
    if since <= 0:
        return level, (1.0, 0.0, 0.0, 0.0)
    left = exp(-since / tau)
    return level + change * (1 - left), (
        1.0,
        1 - left,
        -change * left / tau,
        -change * left * since / (tau * tau),
    )


def fit_onset(series: Series, bout: Bout) -> Onset:
    """Fit the first two minutes of a bout."""
    end_s = min(bout.end_s, bout.start_s + _LONGEST_S)
    if end_s - bout.start_s < _SHORTEST_S:
        return no_onset("the bout is too short: one minute at least")
    if series.covered(bout.start_s - _BEFORE_S, end_s) < ENOUGH_COVERED:
        return no_onset("too few samples around the start")
    bins = bin_means(series, bout.start_s - _BEFORE_S, end_s, _BIN_S)
    t_s = bins.t_s - bout.start_s
    start = _search(t_s, bins)
    if start is None or -start[1] < _SMALLEST_DROP_PCT:
        return no_onset(NO_FALL)
    curve = fit_curve(delayed_exponential, start, t_s.tolist(), bins.values.tolist())
    if curve is None:
        return no_onset("no exponential fits")
    return _judged(curve, bins)


def _search(t_s: Floats, bins: Bins) -> list[float] | None:
    """Return the best start on a lattice; for given delay and tau the rest is a straight line."""
    best, start = float("inf"), None
    times = t_s.tolist()
    for delay in _DELAYS_S:
        for tau in _TAUS_S:
            rise = np.array([1 - exp(-(t - delay) / tau) if t > delay else 0.0 for t in times])
            line = fit_line(rise, bins.values)
            if line is not None and line.residual_sum < best:
                best = line.residual_sum
                start = [line.intercept, line.slope, delay or 1.0, tau]
    return start


def _judged(curve: Curve, bins: Bins) -> Onset:
    _, change, delay, tau = curve.parameters
    mean = float(bins.values.mean())
    total = float(((bins.values - mean) ** 2).sum())
    if -change < _SMALLEST_DROP_PCT:
        return no_onset(NO_FALL)
    if curve.residual_sum > (1 - _LEAST_EXPLAINED) * total:
        return no_onset("the start doesn't look like one exponential")
    if not _SHORTEST_TAU_S <= tau <= _LONGEST_TAU_S or not 0 <= delay <= _LONGEST_DELAY_S:
        return no_onset("the fall has no end within the first two minutes")
    n = len(curve.residuals)
    rho = min(max(_lag_one(curve.residuals), 0.0), 0.9)
    inflated = sqrt((1 + rho) / (1 - rho))
    degrees = max(n * (1 - rho) / (1 + rho) - len(curve.parameters), 1.0)
    errors = [e * inflated for e in curve.errors]
    if errors[3] > _WIDEST_ERROR * tau:
        return no_onset("the noise is too large to fix a time constant")
    return Onset(
        around(delay, errors[2], degrees, "s"),
        around(tau, errors[3], degrees, "s"),
        around(-change, errors[1], degrees, "%"),
    )


def _lag_one(residuals: Sequence[float]) -> float:
    total = fsum(r * r for r in residuals)
    products = fsum(a * b for a, b in pairwise(residuals))
    return products / total if total > 0 else 0.0
