"""One value a second: samples of any rate become the series that every estimate reads.

Between 0.5 and 10 Hz the rate hardly matters to a slope; autocorrelated noise does. So samples
are averaged over one second, once, and the filters behind run once a second whatever the rate.
Seconds without a sample are bridged by a straight line if they are few; else the series begins
afresh, since nothing is known of what lies between.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

#: Seconds that any estimate may look back.
HISTORY_S: Final = 180

#: Longest run of empty seconds that is bridged. A sensor at 0.5 Hz that loses two packets in a row
#: leaves five, and radios fall silent for several seconds; after a longer silence the sensor may
#: well sit elsewhere.
BRIDGE_S: Final = 10

_TRIM_FROM: Final = 4  #: samples in a second from which the lowest and the highest are left out


class Second:
    """The samples of the running second, and their robust mean."""

    __slots__ = ("_count", "_high", "_low", "_total")

    def __init__(self) -> None:
        self._count = 0
        self._total = self._low = self._high = 0.0

    def add(self, value: float) -> None:
        """Take one sample."""
        if self._count == 0:
            self._total = self._low = self._high = value
            self._count = 1
            return
        self._count += 1
        self._total += value
        if value < self._low:
            self._low = value
        elif value > self._high:
            self._high = value

    def close(self) -> float | None:
        """Return the second's value, or None if it had no sample, and begin the next."""
        count = self._count
        if count == 0:
            return None
        self._count = 0
        if count < _TRIM_FROM:
            return self._total / count
        return (self._total - self._low - self._high) / (count - 2)


class Seconds:
    """The last `HISTORY_S` one-second values without holes, newest last.

    Each value is written twice, so that the window lies in one piece.
    """

    __slots__ = ("_at", "_empty", "_newest", "_values", "length")

    def __init__(self) -> None:
        self._values = np.zeros(2 * HISTORY_S, dtype=np.float64)
        self._at = 0
        self._newest = 0.0
        self._empty = 0
        self.length = 0  #: seconds since the series began, at most HISTORY_S

    @property
    def newest(self) -> float:
        """The last value, 0 before the first."""
        return self._newest

    @property
    def empty_s(self) -> int:
        """Seconds that passed since the last value."""
        return self._empty

    def window(self) -> NDArray[np.float64]:
        """Return the last HISTORY_S values, oldest first; only the last `length` mean anything."""
        return self._values[self._at : self._at + HISTORY_S]

    def skip(self) -> None:
        """A second passed without a value."""
        self._empty += 1
        if self._empty > BRIDGE_S:
            self.length = 0

    def take_back(self, empty_s: int) -> None:
        """The last `empty_s` seconds, told as empty so far, are about to be told again."""
        self._empty -= empty_s

    def append(self, value: float) -> None:
        """Take the value of the second that just ended."""
        empty, self._empty = self._empty, 0
        if self.length and empty:
            step = (value - self._newest) / (empty + 1)
            start = self._newest
            for i in range(1, empty + 1):
                self._write(start + step * i)
        self._write(value)
        self._newest = value

    def begin_afresh(self, keep_s: int = 0) -> None:
        """Forget all but the last `keep_s` values."""
        self.length = min(self.length, keep_s)

    def shift(self, step: float) -> None:
        """Move all values by `step`: the same body seen through a sensor that slipped."""
        self._values += step
        self._newest += step

    def _write(self, value: float) -> None:
        at = self._at
        self._values[at] = self._values[at + HISTORY_S] = value
        self._at = at + 1 if at + 1 < HISTORY_S else 0
        if self.length < HISTORY_S:
            self.length += 1
