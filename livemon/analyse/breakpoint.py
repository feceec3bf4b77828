"""The breakpoint of a step or ramp test, and how sure it is.

One line serves unless two are clearly better. The interval holds every bend that fits nearly as
well (profile of the residual sum against F). A breakpoint is not a load that can be sustained: in
one group it lay at 273 W in a ramp while critical power was 226 W (Keir et al. 2015, Med Sci
Sports Exerc 47:1932).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from livemon.analyse.line import fit_line
from livemon.analyse.measure import CONFIDENCE, Measure, unknown
from livemon.analyse.series import Floats
from livemon.analyse.student import f_quantile_one_above, f_tail
from livemon.analyse.two_lines import FEWEST_POINTS, TwoLines, bent_at, fit_two_lines

CAUTION: Final = (
    "A breakpoint of a ramp or step test is not a load that can be kept up: it lies well above it."
)
# The bend is searched for, so F finds one by chance more often than it says. 0.01 stands for the
# usual 0.05 then: of straight lines with 6 to 60 points 0.2 to 5 % pass it (measured here).
_CHANCE: Final = 0.01
_PROFILE_STEPS: Final = 200


@dataclass(frozen=True, slots=True)
class Breakpoint:
    """Where a trend bends.

    Attributes:
        at: the bend, in the unit of x.
        before: slope up to it, per unit of x; None when one line serves.
        after: slope beyond it.
        chance: how often F calls one straight line bent, before the search is allowed for.
    """

    at: Measure
    before: float | None
    after: float | None
    chance: float | None
    caution: str = CAUTION


def find_breakpoint(x: Sequence[float], y: Sequence[float], unit: str) -> Breakpoint:
    """Look for one bend of y over x."""
    order = sorted(range(len(x)), key=lambda i: x[i])
    xs = np.array([x[i] for i in order], dtype=np.float64)
    ys = np.array([y[i] for i in order], dtype=np.float64)
    one, two = fit_line(xs, ys), fit_two_lines(xs, ys)
    if len(set(x)) < FEWEST_POINTS or one is None or two is None:
        return _none(unit, f"needs {FEWEST_POINTS} different loads at least", None)
    degrees = two.points - 4
    if two.residual_sum <= 1e-20 * max(one.residual_sum, 1e-300):
        chance = 0.0 if one.residual_sum > 0 else 1.0
    else:
        gain = (one.residual_sum - two.residual_sum) / 2
        chance = f_tail(gain / (two.residual_sum / degrees), 2, degrees)
    if chance > _CHANCE:
        return _none(unit, "one straight line serves as well as two", chance)
    low, high = _interval(xs, ys, two)
    return Breakpoint(Measure(two.bend, low, high, unit), two.before, two.after, chance)


def _interval(x: Floats, y: Floats, best: TwoLines) -> tuple[float, float]:
    degrees = best.points - 4
    most = best.residual_sum * (1 + f_quantile_one_above(CONFIDENCE, degrees) / degrees)
    first, last = float(x[0]), float(x[-1])
    return _edge(x, y, best.bend, first, most), _edge(x, y, best.bend, last, most)


def _edge(x: Floats, y: Floats, inside: float, outside: float, most: float) -> float:
    """Walk from the best bend outwards to where the fit becomes too poor, then close in."""
    step = (outside - inside) / _PROFILE_STEPS
    for i in range(1, _PROFILE_STEPS):
        if not _good(x, y, inside + i * step, most):
            return _close_in(x, y, inside + (i - 1) * step, inside + i * step, most)
    return outside


def _close_in(x: Floats, y: Floats, good: float, poor: float, most: float) -> float:
    for _ in range(50):
        middle = (good + poor) / 2
        if _good(x, y, middle, most):
            good = middle
        else:
            poor = middle
    return good


def _good(x: Floats, y: Floats, bend: float, most: float) -> bool:
    fit = bent_at(x, y, bend)
    return fit is not None and fit.residual_sum <= most


def _none(unit: str, reason: str, chance: float | None) -> Breakpoint:
    return Breakpoint(unknown(unit, reason), None, None, chance)
