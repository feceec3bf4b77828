"""Weighted sums of the last seconds that answer one question each, and their standard errors.

A contrast is a row of weights that add up to nothing, so that a constant level gives 0. Every
least-squares coefficient is one: the slope of a straight line, the size of a step, the slope after
a bend. Its variance under any stationary noise follows from the noise's semivariogram g,

    Var(sum k_i y_i) = - sum_ij k_i k_j g(|i - j|)          (weights that sum to 0)

(Cressie, Statistics for Spatial Data, 1993, section 2.3; from memory), so that autocorrelation,
smoothing inside a device and slow wander are all allowed for by one line of arithmetic.
"""

from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from livemon.estimate.noise import LAGS_S
from livemon.series.bins import HISTORY_S

Weights = NDArray[np.float64]

_SECONDS_PER_MINUTE: Final = 60.0


def line(window_s: int) -> Weights:
    """Return the weights of a straight line's least-squares slope, per minute."""
    t = np.arange(window_s, dtype=np.float64)
    t -= t.sum() / window_s
    return _padded(t / (t * t).sum() * _SECONDS_PER_MINUTE)


def bend(after_s: int, before_s: int) -> Weights:
    """Return the weights of the slope, per minute, after a level of `before_s` bent into a line."""
    t = np.arange(-before_s + 1.0, after_s + 1.0)
    t = np.maximum(t, 0.0)
    return _regressor(t, _SECONDS_PER_MINUTE)


def step(after_s: int, before_s: int) -> Weights:
    """Return the weights of mean(last `after_s`) minus mean(the `before_s` before them)."""
    return _padded(
        np.concatenate([np.full(before_s, -1.0 / before_s), np.full(after_s, 1.0 / after_s)])
    )


def _regressor(shape: Weights, scale: float) -> Weights:
    centred = shape - shape.sum() / len(shape)
    return _padded(centred / (centred * centred).sum() * scale)


def _padded(weights: Weights) -> Weights:
    return np.concatenate([np.zeros(HISTORY_S - len(weights)), weights])


def _pair_weights(weights: Weights) -> list[float]:
    """Return what each of LAGS_S contributes to the variance, by linear interpolation of g."""
    share = [0.0] * len(LAGS_S)
    for lag in range(1, HISTORY_S):
        pairs = -2.0 * float((weights[lag:] * weights[:-lag]).sum())
        if lag >= LAGS_S[-1]:
            share[-1] += pairs
            continue
        right = next(i for i, known in enumerate(LAGS_S) if known >= lag)
        if LAGS_S[right] == lag:
            share[right] += pairs
            continue
        part = (lag - LAGS_S[right - 1]) / (LAGS_S[right] - LAGS_S[right - 1])
        share[right - 1] += pairs * (1.0 - part)
        share[right] += pairs * part
    return share


class Contrasts:
    """Several contrasts taken at once.

    Args:
        rows: weights, each of shape (HISTORY_S,), oldest second first.
    """

    __slots__ = ("_pairs", "_rows", "support_s")

    def __init__(self, rows: Sequence[Weights]) -> None:
        self._rows = np.array(rows)
        self._pairs = np.array([_pair_weights(row) for row in rows])
        #: seconds of history that each row needs
        self.support_s = tuple(HISTORY_S - int(np.flatnonzero(row)[0]) for row in rows)

    def values(self, window: Weights) -> list[float]:
        """Return each contrast of `window`, shape (HISTORY_S,)."""
        values: list[float] = (self._rows * window).sum(axis=1).tolist()
        return values

    def errors(self, semivariogram: Weights) -> list[float]:
        """Return each contrast's standard error under noise with this semivariogram at LAGS_S."""
        variances = (self._pairs * semivariogram).sum(axis=1)
        errors: list[float] = np.sqrt(np.maximum(variances, 0.0)).tolist()
        return errors
