"""How much one relay may ask of the hub's computer."""

from dataclasses import dataclass
from typing import Final

from livemon.net.batch import MAX_BYTES

#: A full batch, and its topic beside it.
_LONGEST_BYTES: Final = MAX_BYTES + 1_024


@dataclass(frozen=True, slots=True)
class ShareLimits:
    """All limits of a share.

    Attributes:
        relays: connected at one time; what one laptop's core and screen are made for.
        names: relays that were ever let in since the start; bounds what is remembered.
        waiting: connections that have not said yet who they are. With `relays` it stays below the
            256 open files of a plain macOS shell, and the 512 sockets of Windows' select().
        hello_s: from the connection to the end of the first message, TLS included.
        wrong_code_s: wait before a wrong code is answered, so that guessing takes long.
        longest_bytes: of one message.
        messages_per_s: of one relay. It sends at most 40 live batches in a second, and as many
            again when it fills in what was lost. Beyond it is slowed down, not cut off: what is
            more waits in its own computer. Less than what a hub drops (allowance.py).
        bytes_per_s: of one relay; ten times a full house of sensors.
        most_silent_s: a relay that asks for no shorter one is given up after this.
        farewell_s: how long a connection that ends may take to do so.
    """

    relays: int = 40
    names: int = 80
    waiting: int = 64
    hello_s: float = 5.0
    wrong_code_s: float = 1.0
    longest_bytes: int = _LONGEST_BYTES
    messages_per_s: float = 150.0
    bytes_per_s: float = 4_000_000.0
    most_silent_s: float = 90.0
    farewell_s: float = 2.0


class Allowance:
    """What a relay may still send: a bucket that fills by `per_s`, up to two seconds' worth.

    The time is handed in, in seconds of any clock that never goes back.
    """

    __slots__ = ("_at_s", "_left", "_per_s")

    def __init__(self, per_s: float, now_s: float) -> None:
        self._per_s = per_s
        self._left = 2 * per_s
        self._at_s = now_s

    def spend(self, amount: float, now_s: float) -> float:
        """Take `amount` out; return how many seconds to wait before the next may come."""
        filled = self._left + (now_s - self._at_s) * self._per_s
        self._left = min(filled, 2 * self._per_s) - amount
        self._at_s = now_s
        return max(0.0, -self._left / self._per_s)
