"""What all connections of a share have in common: names, seats, and what stays.

A relay's state and head line stay here for a hub that comes later, and not in the broker behind
(share_amqtt.py says why). The limits of a relay outlast its connections.
"""

import asyncio
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import count

from livemon.net.share_amqtt import Switch
from livemon.net.share_limits import Allowance, ShareLimits
from livemon.net.share_packets import Hello, LastWord
from livemon.net.share_refusals import RefusalLog
from livemon.net.share_rules import Register
from livemon.net.share_write import kept
from livemon.net.topics import HUB


@dataclass(slots=True, eq=False)
class Seat:
    """One connection of a name that was let in.

    Attributes:
        leave: set when the same relay came back on a new connection.
        left: set when this one is over.
        client_id: never used twice.
    """

    name: str
    client_id: str
    leave: asyncio.Event = field(default_factory=asyncio.Event)
    left: asyncio.Event = field(default_factory=asyncio.Event)


@dataclass(slots=True)
class Hall:
    """A share's inside."""

    register: Register
    limits: ShareLimits
    log: RefusalLog
    switch: Switch
    _seats: dict[str, Seat] = field(default_factory=dict)
    _stays: dict[str, bytes] = field(default_factory=dict)
    _allowances: dict[str, tuple[Allowance, Allowance]] = field(default_factory=dict)
    _numbers: Iterator[int] = field(default_factory=count)

    @property
    def present(self) -> frozenset[str]:
        """Names of those who are connected."""
        return frozenset(self._seats)

    async def seat(self, hello: Hello) -> Seat:
        """Give a seat to who says `hello`, once its earlier connection has left.

        Raises:
            Refused: it gets none.
        """
        name = self.register.admit(hello, self.present)
        seat = Seat(name, f"{name}.{next(self._numbers)}")
        earlier, self._seats[name] = self._seats.get(name), seat
        if earlier is not None:
            earlier.leave.set()
            await earlier.left.wait()
        return seat

    def vacate(self, seat: Seat) -> None:
        """Take note that this connection is over."""
        seat.left.set()
        if self._seats.get(seat.name) is seat:
            del self._seats[seat.name]

    def stay(self, message: LastWord) -> None:
        """Keep a message for those who come later; an empty one takes the kept one away."""
        if message.payload:
            self._stays[message.topic] = message.payload
        else:
            self._stays.pop(message.topic, None)

    def what_stays(self) -> tuple[bytes, ...]:
        """Return as packets what is kept."""
        return tuple(kept(topic, payload) for topic, payload in self._stays.items())

    def wait_s(self, name: str, size_bytes: int, now_s: float) -> float:
        """Charge a message to `name`; return how long it has to wait before the next."""
        if name == HUB:
            return 0.0  # this program itself
        if name not in self._allowances:
            limits = self.limits
            self._allowances[name] = (
                Allowance(limits.messages_per_s, now_s),
                Allowance(limits.bytes_per_s, now_s),
            )
        messages, amount = self._allowances[name]
        return max(messages.spend(1, now_s), amount.spend(size_bytes, now_s))
