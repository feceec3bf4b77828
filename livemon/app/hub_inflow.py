"""What relays send, on its way from the network's thread into the session, in one order of time.

The session's own time follows the clock by a tenth of a second, so that what was under way keeps
the time at which it happened, and the ticks between are the same as on the relay itself.
"""

from collections import deque
from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from livemon.events import Event
from livemon.net.merge import Merge

#: A relay gathers for 20 ms, and its neighbours are waited for 40 ms; what is later than this is
#: taken as of now.
_BEHIND_NS: Final = 100_000_000


class HubInflow:
    """Events from all relays. `put`, `forget` and `fail` may be called from another thread."""

    def __init__(self) -> None:
        self._arrived: deque[tuple[str, list[Event] | None]] = deque()  # its two ends are atomic
        self._merge = Merge[Event]()
        self._failure: BaseException | None = None

    def put(self, relay: str, events: list[Event]) -> None:
        """Take what a relay sent, in the hub's time."""
        self._arrived.append((relay, events))

    def forget(self, relay: str) -> None:
        """Wait for this relay no longer; it left."""
        self._arrived.append((relay, None))

    def fail(self, failure: BaseException) -> None:
        """End the session: the network is gone for good."""
        self._failure = failure

    def due(self, now_ns: int) -> Iterator[Event]:
        """Yield what the session is to be fed now.

        Raises:
            LivemonError: the network is gone for good; it says why.
        """
        if self._failure is not None:
            raise self._failure
        while self._arrived:
            relay, events = self._arrived.popleft()
            if events is None:
                self._merge.forget(relay)
                continue
            for event in events:
                self._merge.put(relay, event.t_ns, event)
        for t_ns, event in self._merge.release(now_ns):
            yield event if event.t_ns == t_ns else replace(event, t_ns=t_ns)

    def settled_ns(self, now_ns: int) -> int:
        """Return the time up to which nothing more is expected."""
        return max(0, now_ns - _BEHIND_NS)
