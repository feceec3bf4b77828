"""How much a series of one-second values varies by itself, at each time scale.

The semivariogram g(lag) is half the variance of differences `lag` seconds apart: white noise has it
all at lag 1, autocorrelated noise, device smoothing and wander add to it at longer lags. It is
measured from second differences, which leave a trend out, and their spread is taken between
quartiles, so that neither a bend nor a step nor a spike (few differences) counts as noise.
"""

from math import sqrt
from typing import Final

import numpy as np
from numpy.typing import NDArray

from livemon.series.bins import HISTORY_S

#: Lags in seconds at which g is known; between them it is taken as straight, after them as level.
LAGS_S: Final = (1, 2, 4, 8, 16, 32, 64)

#: Correlations from one second to the next for which optimal weights are kept ready.
PERSISTENCES: Final = (0.0, 0.4, 0.65, 0.85)

_MEASURED: Final = (1, 2, 4, 8, 16)  #: lags of which the history holds enough
_QUARTILES_TO_SD: Final = 1.349  #: distance of a normal distribution's quartiles, in SD
_MEAN_TO_SD: Final = 1.2533  #: sqrt(pi / 2): SD of a normal distribution over its mean distance
_FEWEST: Final = 40  #: seconds before the series' own spread is believed
#: Weights of a new look every ten seconds. Less when it shows more: the muscle's own movements
#: add to what is seen at long lags, and nothing takes away from it.
_WEIGHT_UP: Final = 0.08
_WEIGHT_DOWN: Final = 0.15
#: What each lag may add to the one before, as a factor: a moving mean inside the device doubles g
#: with the lag, and so do slow waves. More is the muscle's own movement.
_GROWTH: Final = (1.0, 2.2, 2.2, 2.2, 2.2)
_BEYOND: Final = 1.15  #: what lags that can't be measured add: slow waves do not end at 16 s
_RECENT_S: Final = 40  #: seconds in which noise is allowed to have become louder
_LOUDER: Final = 1.8  #: variance ratio from which on it has: seldom reached by chance in 40 s
_REFRESH_S: Final = 10  #: noise changes slowly; measuring it each second would be waste


class Noise:
    """The running semivariogram of one channel.

    Args:
        typical_sd: SD of one-second values to assume until the series itself can tell.
        floor_sd: SD below which no noise estimate goes: rounding hides smaller noise.
        wander_sd: SD of slow wander that shorter lags can't show.
        wander_s: its time constant.
    """

    __slots__ = ("_age_s", "_floor", "_known", "_rounding", "_wander", "looks", "semivariogram")

    def __init__(
        self, *, typical_sd: float, floor_sd: float, wander_sd: float, wander_s: float
    ) -> None:
        lags = np.array(LAGS_S, dtype=np.float64)
        self._floor = floor_sd * floor_sd
        # 1 - exp(-x) as x / (1 + x): the shape hardly matters, and it is exact on every machine.
        self._wander = wander_sd * wander_sd * (lags / (lags + wander_s))
        self._known: list[float] | None = None
        self._age_s = 0
        self.looks = 0  #: how often the series was measured
        self._rounding = 0.0
        #: g at LAGS_S, shape (len(LAGS_S),)
        self.semivariogram = typical_sd * typical_sd + self._wander

    @property
    def sd(self) -> float:
        """SD of one-second values about a local level."""
        return sqrt(float(self.semivariogram[2]))

    @property
    def persistence(self) -> int:
        """Index in PERSISTENCES of the autoregression that is most like this noise."""
        g = self.semivariogram.tolist()
        total = g[4]
        one = max(1.0 - g[0] / total, 0.0)
        two = sqrt(max(1.0 - g[1] / total, 0.0))
        four = sqrt(sqrt(max(1.0 - g[2] / total, 0.0)))
        mean = (one + two + four) / 3.0
        return min(range(len(PERSISTENCES)), key=lambda i: abs(PERSISTENCES[i] - mean))

    def rounded_to(self, step: float) -> None:
        """The sensor gives multiples of `step` only: its error is spread evenly over one step."""
        self._rounding = step * step / 12.0

    def update(self, window: NDArray[np.float64], length: int) -> bool:
        """Look at the newest `length` of `window`; return whether the semivariogram changed."""
        self._age_s += 1
        if length < _FEWEST or self._age_s < _REFRESH_S:
            return False
        self._age_s = 0
        series = window[HISTORY_S - length :]
        fresh: list[float] = []
        twice = 0.0
        for lag in reversed(_MEASURED):
            bent = _spread(series[2 * lag :] - 2.0 * series[lag:-lag] + series[: -2 * lag])
            # The variance of second differences is 8 g(lag) - 2 g(2 lag); g is level at the end.
            twice = (bent + 2.0 * twice) / 8.0 if fresh else bent / 6.0
            fresh.append(twice)
        fresh.reverse()
        self.looks += 1
        if self._known is None:
            self._known = fresh
        else:
            self._known = [
                k + (_WEIGHT_DOWN if f < k else _WEIGHT_UP) * (f - k)
                for k, f in zip(self._known, fresh, strict=True)
            ]
        recent = series[-_RECENT_S:]
        bent = _spread(recent[2:] - 2.0 * recent[1:-1] + recent[:-2])
        quiet = max(8.0 * self._known[0] - 2.0 * self._known[1], 2.0 * self._known[0], self._floor)
        louder = bent / quiet
        if louder < _LOUDER:
            louder = 1.0
        highest = max(self._floor, self._rounding)
        levels: list[float] = []
        for known in self._known:
            if levels:
                known = min(known, _GROWTH[len(levels)] * levels[-1])
            highest = max(highest, known * louder)
            levels.append(highest)
        levels += [_BEYOND * highest] * (len(LAGS_S) - len(levels))
        self.semivariogram = np.array(levels) + self._wander
        return True


def _spread(differences: NDArray[np.float64]) -> float:
    """Return a robust variance of `differences`."""
    n = len(differences)
    lower, upper = n // 4, n - 1 - n // 4
    ordered = np.sort(differences)
    by_quartiles = float(ordered[upper] - ordered[lower]) / _QUARTILES_TO_SD
    # Rounded, quiet series have most differences 0 and no distance between quartiles.
    middle = float(ordered[n // 2])
    trimmed = np.minimum(np.abs(differences - middle), 3.0 * max(by_quartiles, 0.2))
    by_mean = float(trimmed.sum()) / n * _MEAN_TO_SD
    sd = max(by_quartiles, by_mean) if by_quartiles < 0.2 else by_quartiles
    return sd * sd
