"""A hub's side of a connection: keep every relay's recording, show what is new, say what is there.

Two calls lead out: `keep` takes lines for the disk, each once and in order; `show` takes live lines
for the core, with what to add to their times. It does not know what lines say.
"""

import asyncio
from collections import Counter
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from typing import Final, NoReturn

from livemon.net.batch import Batch, decode_batch
from livemon.net.broker import Arrival, Connection
from livemon.net.first_to_end import first_to_end
from livemon.net.inlet import Inlet
from livemon.net.notes import Have, State, decode_state, encode_have
from livemon.net.offset import ClockOffset
from livemon.net.topics import Leaf, Topic, hub_listens, read_topic
from livemon.net.trouble import MessageError

_SPEAK_EVERY_S: Final = 1.0
#: A relay sends one recording and the ends of some earlier ones; more is a relay gone wrong.
_MOST_SESSIONS: Final = 32


@dataclass(frozen=True, slots=True)
class Source:
    """One recording of one relay."""

    relay: str
    session: str


@dataclass(frozen=True, slots=True)
class Outlets:
    """Where it all goes.

    Attributes:
        stored: how many lines of a recording are on the disk; asked once.
        keep: takes the next lines for the disk.
        show: takes live lines, and the nanoseconds to add to their times for the hub's time.
        meta: takes the head line of a relay's recording, which may come again.
        there: takes whether a relay says it is there.
    """

    stored: Callable[[Source], int]
    keep: Callable[[Source, tuple[bytes, ...]], None]
    show: Callable[[Source, int, tuple[bytes, ...]], None]
    meta: Callable[[str, bytes], None]
    there: Callable[[Source, bool], None]


class Hub:
    """Listens to all relays of a group.

    Attributes:
        rejected: messages that were none of ours, by reason.
        skipped: lines that came too late to be shown.
    """

    def __init__(self, group: str, outlets: Outlets, *, now_ns: Callable[[], int]) -> None:
        self.rejected: Counter[str] = Counter()
        self.skipped = 0
        self._group = group
        self._outlets = outlets
        self._now_ns = now_ns
        self._inlets: dict[Source, Inlet] = {}
        self._offsets: dict[Source, ClockOffset] = {}
        self._unsaid: dict[Source, None] = {}  # in the order in which they were asked for
        self._something = asyncio.Event()

    async def work(self, connection: Connection) -> None:
        """Serve a connection until it ends.

        Raises:
            BrokerLost: in the end, always.
        """
        await connection.subscribe(hub_listens(self._group))
        await first_to_end(self._listen(connection), self._speak(connection))

    async def _listen(self, connection: Connection) -> None:
        async for arrival in connection.arrivals():
            self._take(arrival)

    def _take(self, arrival: Arrival) -> None:
        arrived_ns = self._now_ns()
        try:
            self._taken(read_topic(arrival.topic), arrival, arrived_ns)
        except MessageError as error:
            self.rejected[str(error)] += 1

    def _taken(self, topic: Topic, arrival: Arrival, arrived_ns: int) -> None:
        match topic.leaf:
            case Leaf.META:
                self._outlets.meta(topic.relay, arrival.payload)
            case Leaf.STATE:
                self._state(topic.relay, decode_state(arrival.payload))
            case Leaf.LIVE | Leaf.FILL if not arrival.retained:
                batch = decode_batch(arrival.payload)
                source = Source(topic.relay, batch.session)
                self._lines(source, batch, arrived_ns, live=topic.leaf is Leaf.LIVE)

    def _state(self, relay: str, state: State) -> None:
        for session in (state.session, *state.earlier):
            source = Source(relay, session)
            self._inlet(source)
            self._speak_of(source)
        self._outlets.there(Source(relay, state.session), state.there)

    def _lines(self, source: Source, batch: Batch, arrived_ns: int, *, live: bool) -> None:
        taken = self._inlet(source).take(batch, live=live)
        if taken.kept:
            self._outlets.keep(source, taken.kept)
        self.skipped += taken.skipped
        if taken.shown:
            offset = self._offsets.setdefault(source, ClockOffset())
            offset_ns = offset.update(batch.sent_ns, arrived_ns)
            self._outlets.show(source, offset_ns, taken.shown)
        if not live:
            self._speak_of(source)  # the relay waits for it before it sends more

    def _inlet(self, source: Source) -> Inlet:
        if source not in self._inlets:
            of_this_relay = sum(known.relay == source.relay for known in self._inlets)
            if of_this_relay >= _MOST_SESSIONS:
                raise MessageError(f"more than {_MOST_SESSIONS} recordings of relay {source.relay}")
            self._inlets[source] = Inlet(source.session, self._outlets.stored(source))
        return self._inlets[source]

    def _speak_of(self, source: Source) -> None:
        self._unsaid[source] = None
        self._something.set()

    async def _speak(self, connection: Connection) -> NoReturn:
        """Say what is there: at once where a relay waits for it, and of all once a second."""
        loop = asyncio.get_running_loop()
        all_due_s = loop.time()
        while True:
            if loop.time() >= all_due_s:
                all_due_s = loop.time() + _SPEAK_EVERY_S
                self._unsaid.update(dict.fromkeys(self._inlets))
            sources, self._unsaid = tuple(self._unsaid), {}
            self._something.clear()
            for source in sources:
                await self._say(connection, source)
            with suppress(TimeoutError):
                async with asyncio.timeout_at(all_due_s):
                    await self._something.wait()

    async def _say(self, connection: Connection, source: Source) -> None:
        have = encode_have(Have(source.session, self._inlets[source].stored))
        await connection.publish(str(Topic(self._group, source.relay, Leaf.HAVE)), have, qos=0)
