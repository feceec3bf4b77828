"""Make the passing of time an event, at the same moments live and in replay.

Silence means something (a belt fell off), but the core may not look at a clock. So ticks fall due
on a fixed grid of session time. They need no recording: the grid makes them again.
"""

from collections.abc import Iterator
from typing import Final

#: Half a second: well inside the three missed periods after which a reading is called stale,
#: and quick enough that a screen fed by ticks alone looks alive.
TICK_NS: Final = 500_000_000


class TickGrid:
    """Ticks at every multiple of the period, each handed out once."""

    __slots__ = ("_next_ns", "_period_ns")

    def __init__(self, period_ns: int = TICK_NS) -> None:
        self._period_ns = period_ns
        self._next_ns = period_ns

    @property
    def next_ns(self) -> int:
        """When the next tick falls due."""
        return self._next_ns

    def until(self, t_ns: int) -> Iterator[int]:
        """Yield the times of the ticks due at or before `t_ns` that were not yielded yet."""
        while self._next_ns <= t_ns:
            due = self._next_ns
            self._next_ns += self._period_ns
            yield due

    def skip_to(self, t_ns: int) -> None:
        """Drop the ticks before `t_ns`: nobody was watching."""
        if t_ns > self._next_ns:
            self._next_ns += -(-(t_ns - self._next_ns) // self._period_ns) * self._period_ns
