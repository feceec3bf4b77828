"""A relay's side of a connection: publish the recording as it grows, and again what was lost.

A line is written to the recording first and handed over here second, so whatever happens on the
way, it can be sent again. It does not know what lines say.
"""

import asyncio
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from typing import Final, NoReturn

from livemon.net.batch import Batch, encode_batch, fitting
from livemon.net.broker import Connection, Will
from livemon.net.first_to_end import first_to_end
from livemon.net.journal import Journal
from livemon.net.notes import State, decode_have, encode_state
from livemon.net.topics import Leaf, Topic, relay_listens
from livemon.net.trouble import BrokerLost, MessageError

#: Lines that come within this time share a message: it delays them by half of it on average.
_GATHER_S: Final = 0.02
#: How often a relay whose sensors are silent says that it is there itself.
_SIGN_OF_LIFE_NS: Final = 1_000_000_000
#: Whoever closes the program waits this long at most for the last word to go out.
_FAREWELL_S: Final = 1.0


@dataclass(frozen=True, slots=True)
class Clocks:
    """The session's own time, and the wall clock, which only labels."""

    now_ns: Callable[[], int]
    utc_ms: Callable[[], int]


class Relay:
    """Sends one recording that grows, and earlier ones that the hub lacks the end of."""

    def __init__(
        self,
        group: str,
        relay: str,
        journal: Journal,
        clocks: Clocks,
        *,
        earlier: tuple[Journal, ...] = (),
    ) -> None:
        self._group = group
        self._relay = relay
        self._journal = journal
        self._journals = {one.session: one for one in (*earlier, journal)}
        self._clocks = clocks
        self._something = asyncio.Event()
        self._spoke_ns = 0
        self.rejected = 0  #: messages that were none of ours

    @property
    def will(self) -> Will:
        """What the broker shall say when we are gone without a word."""
        return Will(self._topic(Leaf.STATE), self._state(there=False))

    @property
    def behind(self) -> int:
        """Lines that the hub doesn't have, as far as is known."""
        return sum(one.outlet.written - one.outlet.stored for one in self._journals.values())

    def wrote(self, line: bytes) -> None:
        """Take a line that now stands in the recording; never waits."""
        now_ns = self._clocks.now_ns()
        self._journal.outlet.wrote(1, now_ns)
        self._journal.fresh.put(line, now_ns)
        self._something.set()

    async def work(self, connection: Connection) -> None:
        """Serve a connection until it ends.

        Raises:
            BrokerLost: in the end, always.
        """
        for journal in self._journals.values():
            journal.outlet.disconnected()
            journal.introduced = False
        await connection.subscribe(relay_listens(self._group, self._relay))
        await connection.publish(self._topic(Leaf.META), self._journal.head, qos=1, retain=True)
        await self._say(connection, there=True)
        try:
            await first_to_end(self._listen(connection), self._send(connection))
        except asyncio.CancelledError:
            with suppress(BrokerLost, TimeoutError):
                async with asyncio.timeout(_FAREWELL_S):
                    await self._say(connection, there=False)
            raise

    async def _listen(self, connection: Connection) -> None:
        async for arrival in connection.arrivals():
            try:
                have = decode_have(arrival.payload)
            except MessageError:
                self.rejected += 1
                continue
            if journal := self._journals.get(have.session):
                self._hub_has(journal, have.stored)

    def _hub_has(self, journal: Journal, stored: int) -> None:
        outlet = journal.outlet
        if journal is not self._journal:
            # Of an earlier one the hub may have lines that a power cut took from our own disk.
            stored = min(stored, outlet.written)
        outlet.hub_has(stored, self._clocks.now_ns())
        self._something.set()

    async def _send(self, connection: Connection) -> NoReturn:
        while True:
            self._something.clear()
            await self._send_live(connection)
            if not await self._send_again(connection):
                await self._pause()
            await asyncio.sleep(_GATHER_S)

    async def _pause(self) -> None:
        """Wait for something to send; look again once a second for what was lost on the way."""
        try:
            async with asyncio.timeout(1.0):
                await self._something.wait()
        except TimeoutError:
            return

    async def _send_live(self, connection: Connection) -> None:
        while taken := self._journal.fresh.take(self._clocks.now_ns()):
            first, lines = taken
            await self._publish(connection, Leaf.LIVE, self._journal, first, lines)
        if self._clocks.now_ns() - self._spoke_ns >= _SIGN_OF_LIFE_NS:
            first = self._journal.outlet.written + 1
            await self._publish(connection, Leaf.LIVE, self._journal, first, ())

    async def _send_again(self, connection: Connection) -> bool:
        """Send one batch of each recording that the hub lacks lines of; say whether any did."""
        any_sent = False
        for journal in self._journals.values():
            numbers = journal.outlet.next_fill(self._clocks.now_ns())
            if numbers is None:
                continue
            lines = fitting(journal.read(numbers))
            if not lines:
                continue
            await self._introduce(connection, journal)
            await self._publish(connection, Leaf.FILL, journal, numbers.start, lines)
            journal.outlet.sent(range(numbers.start, numbers.start + len(lines)))
            any_sent = True
        return any_sent

    async def _introduce(self, connection: Connection, journal: Journal) -> None:
        """Say the head of an earlier recording, which a hub may never have heard, before its lines.

        It is not retained: what stands there is the present one's.
        """
        if journal is self._journal or journal.introduced:
            return
        journal.introduced = True
        await connection.publish(self._topic(Leaf.META), journal.head, qos=1)

    async def _publish(
        self,
        connection: Connection,
        leaf: Leaf,
        journal: Journal,
        first: int,
        lines: tuple[bytes, ...],
    ) -> None:
        now_ns, utc_ms = self._clocks.now_ns(), self._clocks.utc_ms()
        if leaf is Leaf.LIVE:
            self._spoke_ns = now_ns
        payload = encode_batch(Batch(journal.session, first, now_ns, utc_ms, lines))
        await connection.publish(self._topic(leaf), payload, qos=int(leaf is Leaf.FILL))

    async def _say(self, connection: Connection, *, there: bool) -> None:
        state = self._state(there=there)
        await connection.publish(self._topic(Leaf.STATE), state, qos=1, retain=True)

    def _state(self, *, there: bool) -> bytes:
        session = self._journal.session
        earlier = tuple(other for other in self._journals if other != session)
        return encode_state(State(session, there, earlier))

    def _topic(self, leaf: Leaf) -> str:
        return str(Topic(self._group, self._relay, leaf))
