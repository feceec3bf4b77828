"""One quantity over time, as the analysis takes it: finite values in order, gaps named.

It does not know what the quantity is or where it came from.
"""

from array import array
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Self

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

# Two samples further apart than this, or than three of the sensor's own periods, have a gap between
# them; but no sensor is so slow that more than a quarter of a minute is its period.
LONGEST_STEP_S: Final = 5.0
_PERIODS: Final = 3
_LONGEST_OF_ALL_S: Final = 15.0


@dataclass(frozen=True, slots=True, eq=False)
class Series:
    """Samples of one quantity.

    Attributes:
        t_s: arrival times in seconds, rising, shape (n,).
        values: finite, in the quantity's unit, shape (n,).
        gaps: (start, end) of every hole between samples, in seconds.
    """

    t_s: Floats
    values: Floats
    gaps: tuple[tuple[float, float], ...] = ()

    @classmethod
    def of(cls, t_s: Iterable[float], values: Iterable[float]) -> Self:
        """Put samples in order, leave out what is not finite, keep the first of equal times."""
        t, v = _floats(t_s), _floats(values)
        usable = np.isfinite(t) & np.isfinite(v)
        t, v = t[usable], v[usable]
        order = np.argsort(t, kind="stable")
        t, v = t[order], v[order]
        if len(t):
            first = np.concatenate(([True], t[1:] > t[:-1]))
            t, v = t[first], v[first]
        t.flags.writeable = v.flags.writeable = False
        steps = np.diff(t)
        wide = np.flatnonzero(steps > _longest_step_s(steps)).tolist()
        return cls(t, v, tuple((float(t[i]), float(t[i + 1])) for i in wide))

    def __len__(self) -> int:
        """How many samples there are."""
        return len(self.t_s)

    def between(self, start_s: float, end_s: float) -> "Series":
        """Return the samples with start <= t < end, and the gaps that touch that stretch."""
        first, last = np.searchsorted(self.t_s, (start_s, end_s))
        inside = tuple((a, b) for a, b in self.gaps if b > start_s and a < end_s)
        return Series(self.t_s[first:last], self.values[first:last], inside)

    def covered(self, start_s: float, end_s: float) -> float:
        """Return the share (0 to 1) of a stretch of time that has samples."""
        if end_s <= start_s or len(self) == 0:
            return 0.0
        first, last = max(start_s, float(self.t_s[0])), min(end_s, float(self.t_s[-1]))
        if last <= first:
            return 0.0
        missing = sum(max(0.0, min(b, last) - max(a, first)) for a, b in self.gaps)
        return (last - first - missing) / (end_s - start_s)


def _floats(given: Iterable[float]) -> Floats:
    """Return a copy; arrays are copied as they are, without an object for each number."""
    whole = given if isinstance(given, array | np.ndarray) else list(given)
    return np.array(whole, dtype=np.float64)


def _longest_step_s(steps: Floats) -> float:
    if len(steps) == 0:
        return LONGEST_STEP_S
    own_s = _PERIODS * float(np.median(steps))
    return min(max(LONGEST_STEP_S, own_s), _LONGEST_OF_ALL_S)


NOTHING: Final = Series.of((), ())
