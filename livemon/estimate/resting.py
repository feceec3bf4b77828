"""The level of a muscle at rest: how long to wait, whether it is steady, and what it is.

The newest minute is looked at (a stable baseline of at least one minute is asked for by the
occlusion protocol JoVE 66511). The level is the median, the drift the median of all slopes between
two points (Theil 1950; Sen 1968, J Am Stat Assoc 63:1379), the spread the range of the middle eight
tenths around that line, scaled to the standard deviation of a normal distribution. A cough or a
jolt moves none of them; a reading that flips between two levels is seen, which a median deviation
would miss.
"""

from dataclasses import dataclass
from enum import Enum
from itertools import combinations
from statistics import median
from typing import Final

LEAST_S: Final = 60.0
MOST_S: Final = 120.0
#: Readings of so long make one point, whatever the sensor's rate.
_BIN_S: Final = 2.0
_POINTS: Final = round(LEAST_S / _BIN_S)
#: Common practice, no source: with fewer points the minute has holes, with half no level is named.
_ENOUGH: Final = 0.8
_FEWEST: Final = 0.5
#: Common practice, no source: in training a fall of 2 %/min is one that matters.
_DRIFT_PCT_PER_MIN: Final = 2.0
#: Common practice, no source: about twice what a well-seated oximeter scatters at rest.
_SPREAD_PCT: Final = 3.0
_TAIL: Final = 10  #: one in so many is left out at either end
_NORMAL: Final = 2.5631  #: from the 10th to the 90th percentile there are so many deviations
_S_PER_MIN: Final = 60.0


class Rest(Enum):
    """What can be said of the newest minute."""

    WAITING = "waiting"  #: it is not over yet
    STABLE = "stable"
    DRIFTING = "drifting"
    UNSTEADY = "unsteady"
    SPARSE = "sparse"  #: too few readings


@dataclass(frozen=True, slots=True)
class RestingState:
    """How the rest stands.

    Attributes:
        left_s: until the earliest end, or, after that, until the latest.
        level_pct: median of the newest minute; None with too few readings.
        drift_pct_per_min: positive is rising.
        over: it is stable, or waiting longer would not help.
    """

    verdict: Rest
    elapsed_s: float
    left_s: float
    level_pct: float | None
    drift_pct_per_min: float | None
    spread_pct: float | None
    over: bool


class RestingLevel:
    """Takes the readings of one muscle from `start_s` on."""

    def __init__(self, start_s: float) -> None:
        self._start_s = start_s
        self._last_s = start_s
        self._bins: dict[int, list[float]] = {}

    def feed(self, t_s: float, smo2_pct: float | None) -> None:
        """Take one reading; one that is not newer than the last, or not known, tells nothing."""
        if smo2_pct is None or t_s <= self._last_s:
            return
        self._last_s = t_s
        self._bins.setdefault(int((t_s - self._start_s) / _BIN_S), []).append(smo2_pct)

    def state(self, now_s: float) -> RestingState:
        """Return what can be said by now."""
        elapsed_s = max(now_s - self._start_s, 0.0)
        first = max(int(elapsed_s / _BIN_S) - _POINTS, 0)
        points = [(at, median(values)) for at, values in self._bins.items() if at >= first]
        level = drift = spread = None
        if len(points) >= _FEWEST * _POINTS:
            level = median(value for _, value in points)
            drift, spread = _drift_and_spread(points)
        verdict = Rest.WAITING
        if elapsed_s >= LEAST_S:
            verdict = _verdict(len(points), drift, spread)
        over = verdict is Rest.STABLE or elapsed_s >= MOST_S
        end_s = LEAST_S if elapsed_s < LEAST_S else MOST_S
        left_s = 0.0 if over else end_s - elapsed_s
        return RestingState(verdict, elapsed_s, left_s, level, drift, spread, over)


def _drift_and_spread(points: list[tuple[int, float]]) -> tuple[float, float]:
    per_bin = median((y - x) / (b - a) for (a, x), (b, y) in combinations(points, 2))
    rests = sorted(value - per_bin * at for at, value in points)
    left_out = len(rests) // _TAIL
    spread = (rests[-1 - left_out] - rests[left_out]) / _NORMAL
    return per_bin * _S_PER_MIN / _BIN_S, spread


def _verdict(points: int, drift: float | None, spread: float | None) -> Rest:
    if drift is None or spread is None or points < _ENOUGH * _POINTS:
        return Rest.SPARSE
    if abs(drift) > _DRIFT_PCT_PER_MIN:
        return Rest.DRIFTING
    return Rest.UNSTEADY if spread > _SPREAD_PCT else Rest.STABLE
