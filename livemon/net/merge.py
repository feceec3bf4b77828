"""At the hub: one order in time out of several relays' events.

The core takes events in the order of their times, and relays don't wait for each other. An event is
held back until every relay has brought something later, but not longer than a moment: a relay
that falls silent holds nobody up. What comes later still keeps its place in the order of arrival
and is given the time of the event before it. Times are the hub's; no clock is looked at.
"""

from heapq import heappop, heappush
from typing import Final, Generic, TypeVar

T = TypeVar("T")

#: Twice the time between two batches of a relay, so that neighbours' batches meet.
HOLD_NS: Final = 40_000_000


class Merge(Generic[T]):
    """What is held back, and how far each relay has come."""

    def __init__(self) -> None:
        self._held: list[tuple[int, int, T]] = []
        self._count = 0  # equal times keep the order of arrival
        self._reached_ns: dict[str, int] = {}
        self._released_ns = 0

    def put(self, relay: str, t_ns: int, item: T) -> None:
        """Take one event."""
        heappush(self._held, (t_ns, self._count, item))
        self._count += 1
        self._reached_ns[relay] = t_ns

    def forget(self, relay: str) -> None:
        """Wait for a relay no longer; what it brought stays."""
        self._reached_ns.pop(relay, None)

    def release(self, now_ns: int) -> list[tuple[int, T]]:
        """Return what need not wait any more, with times that never go back."""
        everybody_ns = min(self._reached_ns.values(), default=now_ns)
        until_ns = max(everybody_ns, now_ns - HOLD_NS)
        released = []
        while self._held and self._held[0][0] <= until_ns:
            t_ns, _, item = heappop(self._held)
            self._released_ns = max(self._released_ns, t_ns)
            released.append((self._released_ns, item))
        return released
