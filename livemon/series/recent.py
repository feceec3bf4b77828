"""The seconds that can still change: the running one, and the empty ones before it.

Readings that a radio held back arrive in one burst, seconds after the first of them was taken.
When the second ends in which they came, each is dated back from the last, by the spacing that the
sensor tells of. So no date lies after the arrival, and the order is the one of arrival. A second
that has had its value is not touched again: what belongs there counts for the next one instead.
"""

from typing import Final

from livemon.series.bins import BRIDGE_S, Second

_US: Final = 1_000_000
#: Readings that arrive closer together than this share of their spacing were held back. Nearer to
#: 1, an ordinary stream after a silence, which stretches a learned spacing, would be taken for one.
_BUNCHED: Final = 0.5
_NOTHING: Final[tuple[float | None, ...]] = (None,)


class Recent:
    """Gathers the readings of one channel into one value a second."""

    __slots__ = ("_after_us", "_arrived_us", "_open", "_values")

    def __init__(self) -> None:
        self._open: int | None = None  #: the first second that has had no value; None: not begun
        self._arrived_us: list[int] = []
        self._after_us: list[int] = []
        self._values: list[float | None] = []

    def add(self, t_us: int, after_us: int, value: float | None) -> None:
        """Take a reading that arrived at `t_us`.

        Args:
            t_us: in the running second, and not before that of the last reading.
            after_us: how long after the last reading it was taken.
            value: None for a packet whose reading is not used: it only tells of time.
        """
        self._arrived_us.append(t_us)
        self._after_us.append(after_us)
        self._values.append(value)

    def restart(self) -> None:
        """Nobody was watching: forget what is not told yet, and fill no earlier second."""
        self._clear()
        self._open = None

    def close(self, second: int) -> tuple[float | None, ...]:
        """End the running second; return the values of the last seconds, that one at the end.

        There are more than one when readings came late: the first then belong to seconds that
        were empty so far. A second without a reading is None.
        """
        if not self._values:
            return _NOTHING
        since = second if self._open is None else max(self._open, second - BRIDGE_S)
        if since == second:
            values: tuple[float | None, ...] = (self._mean(),)
        else:
            values = self._dated_back(since, second)
        self._clear()
        for late_s, value in enumerate(reversed(values)):
            if value is not None:
                self._open = second - late_s + 1
                break
        return values

    def taken_us(self) -> list[int]:
        """Return when each reading of the running second was taken, as far as can be told."""
        arrived, after = self._arrived_us, self._after_us
        taken = list(arrived)
        for i in range(len(taken) - 1, 0, -1):
            held_back = arrived[i] - arrived[i - 1] < _BUNCHED * after[i]
            before_us = taken[i] - after[i] if held_back else taken[i]
            taken[i - 1] = min(taken[i - 1], before_us)
        return taken

    def _mean(self) -> float | None:
        mean = Second()
        for value in self._values:
            if value is not None:
                mean.add(value)
        return mean.close()

    def _dated_back(self, since: int, second: int) -> tuple[float | None, ...]:
        seconds: dict[int, Second] = {}
        for taken_us, value in zip(self.taken_us(), self._values, strict=True):
            if value is not None:
                seconds.setdefault(max(taken_us // _US, since), Second()).add(value)
        first = min(seconds, default=second)
        return tuple(seconds[i].close() if i in seconds else None for i in range(first, second + 1))

    def _clear(self) -> None:
        self._arrived_us.clear()
        self._after_us.clear()
        self._values.clear()
