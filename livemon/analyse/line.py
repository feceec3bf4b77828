"""The straight line of least squares, ordinary or weighted, by sums about the mean."""

from dataclasses import dataclass
from math import sqrt

import numpy as np

from livemon.analyse.series import Floats


@dataclass(frozen=True, slots=True)
class Line:
    """y = intercept + slope x, with what its errors need.

    Attributes:
        centre: weighted mean of x, where the line is known best.
        level: the line's value there.
        spread: weighted sum of squared distances from the centre.
        weight: sum of weights (the number of points for an ordinary fit).
        residual_sum: weighted sum of squared residuals.
        points: how many points there were.
    """

    slope: float
    centre: float
    level: float
    spread: float
    weight: float
    residual_sum: float
    points: int

    @property
    def intercept(self) -> float:
        """The value at x = 0."""
        return self.level - self.slope * self.centre

    @property
    def residual_sd(self) -> float:
        """Standard deviation about the line, on n - 2 degrees of freedom."""
        return sqrt(self.residual_sum / (self.points - 2)) if self.points > 2 else 0.0

    @property
    def slope_error(self) -> float:
        """Standard error of the slope for independent errors of equal size."""
        return self.residual_sd / sqrt(self.spread)

    def at(self, x: float) -> float:
        """Return the line's value at x."""
        return self.level + self.slope * (x - self.centre)


def fit_line(x: Floats, y: Floats, weights: Floats | None = None) -> Line | None:
    """Fit a line; None when x takes fewer than two values."""
    if len(x) < 2:
        return None
    w = np.ones(len(x)) if weights is None else weights
    weight = float(w.sum())
    # About the first point first: a session's clock may be far from zero.
    x0, y0 = float(x[0]), float(y[0])
    centre = float((w * (x - x0)).sum()) / weight
    level = float((w * (y - y0)).sum()) / weight
    dx, dy = x - x0 - centre, y - y0 - level
    spread = float((w * dx * dx).sum())
    if spread <= 0:
        return None
    slope = float((w * dx * dy).sum()) / spread
    residuals = dy - slope * dx
    return Line(
        slope,
        x0 + centre,
        y0 + level,
        spread,
        weight,
        float((w * residuals * residuals).sum()),
        len(x),
    )
