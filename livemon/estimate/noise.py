"""How much a series of one-second values varies by itself, at each time scale.

The semivariogram g(lag) is half the variance of differences `lag` seconds apart: white noise has it
all at lag 1, autocorrelated noise, device smoothing and wander add to it at longer lags. Spread is
taken between quartiles, so neither a trend (it moves all differences alike) nor a step or a
spike (few differences) counts as noise. Long lags use second differences, which a trend that
changes slowly leaves alone.
"""

from math import sqrt
from typing import Final

import numpy as np
from numpy.typing import NDArray

from livemon.series.bins import HISTORY_S

#: Lags in seconds at which g is known; between them it is taken as straight, after them as level.
LAGS_S: Final = (1, 2, 4, 8, 16, 32, 64)

_FIRST: Final = (1, 2, 4)  #: lags measured by first differences
_SECOND: Final = 8  #: lag measured by second differences
_QUARTILES_TO_SD: Final = 1.349  #: distance of a normal distribution's quartiles, in SD
_MEAN_TO_SD: Final = 1.2533  #: sqrt(pi / 2): SD of a normal distribution over its mean distance
_FEWEST: Final = 40  #: seconds before the series' own spread is believed
_REFRESH_S: Final = 5  #: noise changes slowly; measuring it each second would be waste


class Noise:
    """The running semivariogram of one channel.

    Args:
        typical_sd: SD of one-second values to assume until the series itself can tell.
        floor_sd: SD below which no noise estimate goes: rounding hides smaller noise.
        wander_sd: SD of slow wander that shorter lags can't show.
        wander_s: its time constant.
    """

    __slots__ = ("_age_s", "_floor", "_known", "_wander", "semivariogram")

    def __init__(
        self, *, typical_sd: float, floor_sd: float, wander_sd: float, wander_s: float
    ) -> None:
        lags = np.array(LAGS_S, dtype=np.float64)
        self._floor = floor_sd * floor_sd
        # 1 - exp(-x) as x / (1 + x): the shape hardly matters, and it is exact on every machine.
        self._wander = wander_sd * wander_sd * (lags / (lags + wander_s))
        self._known: list[float] | None = None
        self._age_s = 0
        #: g at LAGS_S, shape (len(LAGS_S),)
        self.semivariogram = typical_sd * typical_sd + self._wander

    @property
    def sd(self) -> float:
        """SD of one-second values about a local level."""
        return sqrt(float(self.semivariogram[2]))

    def update(self, window: NDArray[np.float64], length: int) -> bool:
        """Look at the newest `length` of `window`; return whether the semivariogram changed."""
        self._age_s += 1
        if length < _FEWEST or self._age_s < _REFRESH_S:
            return False
        self._age_s = 0
        series = window[HISTORY_S - length :]
        fresh = [_spread(series[lag:] - series[:-lag]) / 2.0 for lag in _FIRST]
        far = series[2 * _SECOND :] - 2.0 * series[_SECOND:-_SECOND] + series[: -2 * _SECOND]
        fresh.append(_spread(far) / 6.0)
        if self._known is None:
            self._known = fresh
        else:
            weight = 0.06 if length > 60 else 0.03
            self._known = [k + weight * (f - k) for k, f in zip(self._known, fresh, strict=True)]
        highest, levels = self._floor, []
        for known in self._known:
            highest = max(highest, known)
            levels.append(highest)
        levels += [highest] * (len(LAGS_S) - len(levels))
        self.semivariogram = np.array(levels) + self._wander
        return True


def _spread(differences: NDArray[np.float64]) -> float:
    """Return a robust variance of `differences`."""
    n = len(differences)
    lower, upper = n // 4, n - 1 - n // 4
    ordered = np.partition(differences, (lower, n // 2, upper))
    by_quartiles = float(ordered[upper] - ordered[lower]) / _QUARTILES_TO_SD
    # Rounded, quiet series have most differences 0 and no distance between quartiles.
    middle = float(ordered[n // 2])
    trimmed = np.minimum(np.abs(differences - middle), 3.0 * max(by_quartiles, 0.2))
    by_mean = float(trimmed.sum()) / n * _MEAN_TO_SD
    sd = max(by_quartiles, by_mean) if by_quartiles < 0.2 else by_quartiles
    return sd * sd
