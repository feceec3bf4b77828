"""What to add to a relay's session time to have the hub's.

A message takes its time, and never less than none: so of all (arrival − sending) in a window the
smallest is nearest to the truth, and off by the fastest message's delay at most. (The idea is that
of the clock filter in RFC 5905, 10: trust the sample with the least delay.) Clocks of two computers
drift apart by some 50 parts in a million, 3 ms in a minute, so the window has to move.

The estimate is held until it is clearly wrong: intervals between a relay's events stay exactly what
they were, and a replay of the hub's recording agrees with the relay's own.
"""

from collections import deque
from typing import Final

#: Long enough to hold some messages that met no traffic, short enough for the drift.
_WINDOW_NS: Final = 60_000_000_000
#: Far below what anything on the screen depends on, and above a minute of drift.
_TOLERANCE_NS: Final = 20_000_000


class ClockOffset:
    """The offset of one relay's session."""

    __slots__ = ("_held_ns", "_lowest")

    def __init__(self) -> None:
        self._lowest: deque[tuple[int, int]] = deque()  # arrival, difference: each less than later
        self._held_ns: int | None = None

    def update(self, sent_ns: int, arrived_ns: int) -> int:
        """Take the times of one live batch; return the offset. Arrivals never go back."""
        difference_ns = arrived_ns - sent_ns
        while self._lowest and self._lowest[-1][1] >= difference_ns:
            self._lowest.pop()
        self._lowest.append((arrived_ns, difference_ns))
        while arrived_ns - self._lowest[0][0] > _WINDOW_NS:
            self._lowest.popleft()
        estimate_ns = self._lowest[0][1]
        if self._held_ns is None or abs(estimate_ns - self._held_ns) > _TOLERANCE_NS:
            self._held_ns = estimate_ns
        return self._held_ns
