"""Tell live messages that are live from those that were held up on the way.

A broker or a network that stood still lets go of seconds of messages at once; they are worth
keeping and not showing. A sender whose clock stood still, because it slept, looks the same at
first, but stays late: after some seconds its clock is taken as it is now.
"""

from typing import Final

from livemon.net.offset import ClockOffset

#: A reading is marked as stale after 3 s; what took longer than this to come is no news.
LATE_NS: Final = 5_000_000_000


class Punctual:
    """The clock offset of one relay's session, and whether a message was held up."""

    __slots__ = ("_late_since_ns", "_offset")

    def __init__(self) -> None:
        self._offset = ClockOffset()
        self._late_since_ns: int | None = None

    def update(self, sent_ns: int, arrived_ns: int) -> int | None:
        """Take the times of one live message; return what to add to its times, None if it is late.

        Arrivals never go back.
        """
        offset_ns = self._offset.update(sent_ns, arrived_ns)
        if arrived_ns - sent_ns - offset_ns <= LATE_NS:
            self._late_since_ns = None
            return offset_ns
        if self._late_since_ns is None:
            self._late_since_ns = arrived_ns
        if arrived_ns - self._late_since_ns < LATE_NS:
            return None
        self._late_since_ns, self._offset = None, ClockOffset()
        return self._offset.update(sent_ns, arrived_ns)
