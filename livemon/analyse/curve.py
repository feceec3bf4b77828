"""Least squares for a curve that bends in its parameters: Levenberg (1944) and Marquardt (1963).

Plain scalar arithmetic, so that a fit gives the same bits everywhere `math.exp` does. It knows no
physiology: the model comes as a function that returns a value and its gradient.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import fsum, inf, isfinite, sqrt
from operator import mul
from typing import Final

from livemon.analyse.solve import inverse, solve

#: Takes parameters and x, returns the value there and its derivative by each parameter.
Model = Callable[[Sequence[float], float], tuple[float, Sequence[float]]]

_MOST_ITERATIONS: Final = 500
_FIRST_DAMPING: Final = 1e-2
_HOPELESS_DAMPING: Final = 1e12
_STEP_IS_NOTHING: Final = 1e-13  # relative change of every parameter


@dataclass(frozen=True, slots=True)
class Curve:
    """A fitted curve.

    Attributes:
        parameters: in the model's order.
        errors: their standard errors, for independent errors of equal size.
        residuals: observed minus fitted.
        residual_sum: their sum of squares.
    """

    parameters: tuple[float, ...]
    errors: tuple[float, ...]
    residuals: tuple[float, ...]
    residual_sum: float

    @property
    def residual_sd(self) -> float:
        """Standard deviation about the curve."""
        return sqrt(self.residual_sum / (len(self.residuals) - len(self.parameters)))


def fit_curve(
    model: Model, start: Sequence[float], x: Sequence[float], y: Sequence[float]
) -> Curve | None:
    """Fit `model` from `start`; None when it doesn't settle or the data don't determine it."""
    if len(x) <= len(start):
        return None
    parameters, damping = list(start), _FIRST_DAMPING
    current = _linearise(model, parameters, x, y)
    for _ in range(_MOST_ITERATIONS):
        if current is None:
            return None
        step = solve(current.damped(damping), current.gradient)
        tried = [p + s for p, s in zip(parameters, step, strict=True)] if step else None
        trial = _linearise(model, tried, x, y) if tried else None
        if tried is None or trial is None or trial.residual_sum > current.residual_sum:
            damping *= 4
            if damping > _HOPELESS_DAMPING:
                break
            continue
        settled = _settled(parameters, tried)
        parameters, current, damping = tried, trial, damping / 8
        if settled:
            break
    else:
        return None
    return _finished(parameters, current) if current else None


def _settled(old: Sequence[float], new: Sequence[float]) -> bool:
    return all(abs(b - a) <= _STEP_IS_NOTHING * abs(b) for a, b in zip(old, new, strict=True))


@dataclass(frozen=True, slots=True)
class _Linearised:
    residuals: tuple[float, ...]
    residual_sum: float
    normal: list[list[float]]
    gradient: list[float]

    def damped(self, damping: float) -> list[list[float]]:
        return [
            [v * (1 + damping) if i == j else v for j, v in enumerate(row)]
            for i, row in enumerate(self.normal)
        ]


def _linearise(
    model: Model, parameters: Sequence[float], x: Sequence[float], y: Sequence[float]
) -> _Linearised | None:
    try:
        points = [model(parameters, at) for at in x]
    except (OverflowError, ZeroDivisionError):
        return None
    residuals = tuple(seen - value for seen, (value, _) in zip(y, points, strict=True))
    total = fsum(r * r for r in residuals) if all(map(isfinite, residuals)) else inf
    if not isfinite(total):
        return None
    columns = list(zip(*(slopes for _, slopes in points), strict=True))
    normal = [[0.0] * len(columns) for _ in columns]
    for i, p in enumerate(columns):
        for j in range(i + 1):
            normal[i][j] = normal[j][i] = fsum(map(mul, p, columns[j]))
    gradient = [fsum(map(mul, p, residuals)) for p in columns]
    return _Linearised(residuals, total, normal, gradient)


def _finished(parameters: Sequence[float], at: _Linearised) -> Curve | None:
    covariance = inverse(at.normal)
    if covariance is None:
        return None
    variance = at.residual_sum / (len(at.residuals) - len(parameters))
    diagonal = [covariance[i][i] * variance for i in range(len(parameters))]
    if not all(isfinite(d) and d >= 0 for d in diagonal):
        return None
    errors = tuple(sqrt(d) for d in diagonal)
    return Curve(tuple(parameters), errors, at.residuals, at.residual_sum)
