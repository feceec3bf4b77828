"""Two straight lines that meet, against one: where does a trend bend?

The exact least-squares solution of Hudson (1966, J Am Stat Assoc 61:1097): for every split the
two lines are fitted freely, and where they meet between the neighbours of the split that is the
best bend there; otherwise the bend lies on a point. No lattice, no start value.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from livemon.analyse.line import fit_line
from livemon.analyse.series import Floats
from livemon.analyse.solve import solve

FEWEST_POINTS: Final = 6
_EACH_SIDE: Final = 2  # points that a line needs


@dataclass(frozen=True, slots=True)
class TwoLines:
    """A bent line.

    Attributes:
        bend: x where the lines meet.
        level: y there.
        before: slope up to the bend.
        after: slope beyond it.
    """

    bend: float
    level: float
    before: float
    after: float
    residual_sum: float
    points: int


def fit_two_lines(x: Floats, y: Floats) -> TwoLines | None:
    """Fit two free slopes; x must not fall. None with fewer than six points."""
    if len(x) < FEWEST_POINTS:
        return None
    candidates = [float(v) for v in np.unique(x[_EACH_SIDE - 1 : len(x) - _EACH_SIDE + 1])]
    for split in range(_EACH_SIDE, len(x) - _EACH_SIDE + 1):
        where = _meeting(x, y, split)
        if where is not None and x[split - 1] <= where <= x[split]:
            candidates.append(where)
    fits = [fit for bend in candidates if (fit := bent_at(x, y, bend)) is not None]
    return min(fits, key=lambda fit: fit.residual_sum, default=None)


def bent_at(x: Floats, y: Floats, bend: float) -> TwoLines | None:
    """Fit two slopes that meet at a given x; None where they can't be told apart."""
    # Shifted there, the equations for the level at the bend and the two slopes are tame.
    left, right = np.minimum(x - bend, 0.0), np.maximum(x - bend, 0.0)
    columns = (np.ones(len(x)), left, right)
    normal = [[float((p * q).sum()) for q in columns] for p in columns]
    found = solve(normal, [float((p * y).sum()) for p in columns])
    if found is None:
        return None
    level, before, after = found
    residuals = y - level - before * left - after * right
    total = float((residuals * residuals).sum())
    return TwoLines(bend, level, before, after, total, len(x))


def _meeting(x: Floats, y: Floats, split: int) -> float | None:
    """Return where the lines through the points before and after the split meet."""
    left, right = fit_line(x[:split], y[:split]), fit_line(x[split:], y[split:])
    if left is None or right is None or left.slope == right.slope:
        return None
    return (right.intercept - left.intercept) / (left.slope - right.slope)
