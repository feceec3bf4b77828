"""How much one relay may send, so that one gone wrong leaves time for the others.

A bucket that fills at a steady rate and holds a burst; each message takes one. What finds it empty
is dropped before it is read: live lines are lost, all others are sent again by a sound relay.
"""

from typing import Final

#: A relay gathers for 20 ms, so it sends 50 live messages and 50 of a backlog in a second.
_PER_S: Final = 200
#: A backlog that was waiting in the broker.
_BURST: Final = 400
_NS_PER_S: Final = 1_000_000_000


class Allowance:
    """What one relay may send now."""

    __slots__ = ("_at_ns", "_left_ns")

    def __init__(self) -> None:
        self._left_ns = _BURST * _NS_PER_S // _PER_S  # in time: whole numbers don't drift
        self._at_ns: int | None = None

    def take(self, now_ns: int) -> bool:
        """Return whether one more message is fine."""
        passed_ns = 0 if self._at_ns is None else now_ns - self._at_ns
        self._at_ns = now_ns
        self._left_ns = min(self._left_ns + passed_ns, _BURST * _NS_PER_S // _PER_S)
        if self._left_ns < _NS_PER_S // _PER_S:
            return False
        self._left_ns -= _NS_PER_S // _PER_S
        return True
