"""Weighted sums of the last seconds that answer one question each, and their standard errors.

A contrast is a row of weights that add up to nothing, so that a constant level gives 0. Every
least-squares coefficient is one: the slope of a straight line, the size of a step, the slope after
a bend. Its variance under any stationary noise follows from the noise's semivariogram g,

    Var(sum k_i y_i) = - sum_ij k_i k_j g(|i - j|)          (weights that sum to 0)

(Cressie, Statistics for Spatial Data, 1993, section 2.3; from memory), so that autocorrelation,
smoothing inside a device and slow wander are all allowed for by one line of arithmetic.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Final

import numpy as np
from numpy.typing import NDArray

from livemon.estimate.noise import LAGS_S
from livemon.series.bins import HISTORY_S

Weights = NDArray[np.float64]

_SECONDS_PER_MINUTE: Final = 60.0


@dataclass(frozen=True, slots=True)
class Row:
    """One contrast.

    Attributes:
        weights: shape (HISTORY_S,), oldest second first.
        grip: the root of how much of the whitened sum of squares a size of 1 explains: of two
            shapes fitted to the same seconds, the one with the larger size times grip fits better.
    """

    weights: Weights
    grip: float


def line(window_s: int, persistence: float = 0.0) -> Row:
    """Return the slope of a straight line, per minute."""
    return _coefficient(_ages(window_s) / _SECONDS_PER_MINUTE, [], persistence)


def bend(after_s: int, before_s: int, persistence: float = 0.0) -> Row:
    """Return the slope, per minute, after a level of `before_s` bent into a line."""
    t = (_ages(before_s + after_s) + after_s) / _SECONDS_PER_MINUTE
    return _coefficient(np.maximum(t, 0.0), [], persistence)


def knee(after_s: int, before_s: int, persistence: float = 0.0) -> Row:
    """Return the slope now, per minute, after a line of `before_s` bent again."""
    t = (_ages(before_s + after_s) + after_s) / _SECONDS_PER_MINUTE
    return _coefficient(np.maximum(t, 0.0), [np.minimum(t, 0.0)], persistence)


def shape(values: Weights, persistence: float = 0.0) -> Row:
    """Return the size of `values` beside a constant."""
    return _coefficient(values, [], persistence)


def _ages(window_s: int) -> Weights:
    """Return -window_s + 1 to 0."""
    return np.arange(-window_s + 1.0, 1.0)


def _coefficient(wanted: Weights, others: Sequence[Weights], persistence: float) -> Row:
    """Return the generalised least-squares coefficient of `wanted` beside a constant and `others`.

    The noise is taken as a first-order autoregression with `persistence` from second to second;
    0 gives ordinary least squares. Whitening by Prais & Winsten (1954).
    """
    known = [_whitened(np.ones(len(wanted)), persistence)]
    for other in others:
        known.append(_without(_whitened(other, persistence), known))
    rest = _without(_whitened(wanted, persistence), known)
    grip = sqrt(float((rest * rest).sum()))
    rest = rest / (grip * grip)
    # The weights act on whitened values; carried over to the values themselves:
    weights = rest.copy()
    weights[:-1] -= persistence * rest[1:]
    weights[0] += (sqrt(1.0 - persistence * persistence) - 1.0) * rest[0]
    return Row(np.concatenate([np.zeros(HISTORY_S - len(weights)), weights]), grip)


def _whitened(values: Weights, persistence: float) -> Weights:
    white = values.copy()
    white[1:] -= persistence * values[:-1]
    white[0] *= sqrt(1.0 - persistence * persistence)
    return white


def _without(values: Weights, known: Sequence[Weights]) -> Weights:
    """Return what is left of `values` beside `known`, which are at right angles to each other."""
    for one in known:
        values = values - one * ((values * one).sum() / (one * one).sum())
    return values


def _pair_weights(weights: Weights) -> Weights:
    """Return what each of LAGS_S contributes to the variance, by linear interpolation of g."""
    used = weights[np.flatnonzero(weights)[0] :]
    pairs = np.array([-2.0 * (used[lag:] * used[:-lag]).sum() for lag in range(1, len(used))])
    share: Weights = (_SHARES[: len(pairs)] * pairs[:, np.newaxis]).sum(axis=0)
    return share


def _shares() -> Weights:
    """Return, for lags from 1 on, the part that each of LAGS_S has in g there."""
    lags = np.arange(1.0, HISTORY_S)
    units = np.eye(len(LAGS_S))
    return np.array([np.interp(lags, LAGS_S, unit) for unit in units]).T


_SHARES: Final = _shares()


class Contrasts:
    """Several contrasts taken at once.

    Attributes:
        grips: of each row.
    """

    __slots__ = ("_pairs", "_rows", "grips")

    def __init__(self, rows: Sequence[Row]) -> None:
        self._rows = np.array([row.weights for row in rows])
        self._pairs = np.array([_pair_weights(row.weights) for row in rows])
        self.grips = tuple(row.grip for row in rows)

    def values(self, window: Weights) -> list[float]:
        """Return each contrast of `window`, shape (HISTORY_S,)."""
        values: list[float] = (self._rows * window).sum(axis=1).tolist()
        return values

    def errors(self, semivariogram: Weights) -> list[float]:
        """Return each contrast's standard error under noise with this semivariogram at LAGS_S."""
        variances = (self._pairs * semivariogram).sum(axis=1)
        errors: list[float] = np.sqrt(np.maximum(variances, 0.0)).tolist()
        return errors
