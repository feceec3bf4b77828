"""A hub's side of a connection: keep every relay's recording, show what is new, say what is there.

Calls lead out: `keep` takes lines for the disk, each once and in order; `show` takes live lines for
the core. It does not know what lines say. Whatever is wrong with a message is counted and logged
and costs its sender that message, and nobody else anything.
"""

import asyncio
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from typing import Final, NoReturn

from livemon.net.allowance import Allowance
from livemon.net.batch import Batch, decode_batch
from livemon.net.broker import Arrival, Connection
from livemon.net.first_to_end import first_to_end
from livemon.net.inlet import Inlet
from livemon.net.notes import Have, State, decode_state, encode_have
from livemon.net.punctual import LATE_NS, Punctual
from livemon.net.refusals import Refusals
from livemon.net.topics import HUB, Leaf, Topic, hub_listens, read_topic
from livemon.net.trouble import MessageError

_SPEAK_EVERY_S: Final = 1.0
#: A relay sends one recording and the ends of some earlier ones, and may be started again some
#: times; more is a relay gone wrong.
MOST_SESSIONS: Final = 128
#: More than one hub can show; a stranger who may write everywhere can't fill our memory.
_MOST_RELAYS: Final = 64


@dataclass(frozen=True, slots=True)
class Source:
    """One recording of one relay."""

    relay: str
    session: str


@dataclass(frozen=True, slots=True)
class LiveLines:
    """Lines that are news; none at all is a sign of life.

    Attributes:
        first: number of the first line.
        sent_ns: when they were sent, in the relay's session time; none of them is later.
        offset_ns: what to add to the relay's times for the hub's.
    """

    first: int
    lines: tuple[bytes, ...]
    sent_ns: int
    offset_ns: int


@dataclass(frozen=True, slots=True)
class Outlets:
    """Where it all goes.

    Attributes:
        stored: how many lines of a recording are on the disk; asked once.
        keep: takes the next lines for the disk and the first one's number; returns whether it
            has them.
        show: takes live lines.
        filled: takes lines that were kept and did not come as news, and the first one's number.
        meta: takes the head line of a relay's recording, which may come again.
        there: takes whether a relay says it is there.
    """

    stored: Callable[[Source], int]
    keep: Callable[[Source, int, tuple[bytes, ...]], bool]
    show: Callable[[Source, LiveLines], None]
    filled: Callable[[Source, int, tuple[bytes, ...]], None]
    meta: Callable[[str, bytes], None]
    there: Callable[[Source, bool], None]


class Hub:
    """Listens to all relays of a group.

    Attributes:
        refusals: what was none of ours.
        skipped: lines that came too late to be shown.
    """

    def __init__(
        self,
        group: str,
        outlets: Outlets,
        *,
        now_ns: Callable[[], int],
        refusals: Refusals | None = None,
    ) -> None:
        self.refusals = Refusals() if refusals is None else refusals
        self.skipped = 0
        self._group = group
        self._outlets = outlets
        self._now_ns = now_ns
        self._inlets: dict[Source, Inlet] = {}
        self._clocks: dict[Source, Punctual] = {}
        self._present: dict[str, str] = {}  # the session that each relay says it writes now
        self._allowed: dict[str, Allowance] = {}
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
        arrived_ns, relay = self._now_ns(), ""
        try:
            topic = read_topic(arrival.topic)
            relay = topic.relay
            self._check_sender(relay, arrived_ns)
            self._taken(topic, arrival, arrived_ns)
        except MessageError as error:
            self.refusals.refuse(relay, str(error))

    def _check_sender(self, relay: str, arrived_ns: int) -> None:
        if relay == HUB:
            raise MessageError("a message in the hub's own name")
        if relay not in self._allowed:
            if len(self._allowed) >= _MOST_RELAYS:
                raise MessageError(f"a relay beyond the {_MOST_RELAYS} that a hub takes")
            self._allowed[relay] = Allowance()
        if not self._allowed[relay].take(arrived_ns):
            raise MessageError("messages beyond what a relay may send")

    def _taken(self, topic: Topic, arrival: Arrival, arrived_ns: int) -> None:
        match topic.leaf:
            case Leaf.META:
                self._outlets.meta(topic.relay, arrival.payload)
            case Leaf.STATE:
                self._state(topic.relay, decode_state(arrival.payload))
            case Leaf.LIVE | Leaf.FILL if arrival.retained:
                raise MessageError("lines that the broker had kept; nobody knows how old they are")
            case Leaf.LIVE:
                batch = decode_batch(arrival.payload)
                self._live(Source(topic.relay, batch.session), batch, arrived_ns)
            case Leaf.FILL:
                batch = decode_batch(arrival.payload)
                source = Source(topic.relay, batch.session)
                self._fill(source, batch)
                self._speak_of(source)  # the relay waits for it before it sends more

    def _state(self, relay: str, state: State) -> None:
        self._present[relay] = state.session
        for session in (state.session, *state.earlier):
            source = Source(relay, session)
            self._inlet(source)
            self._speak_of(source)
        self._outlets.there(Source(relay, state.session), state.there)

    def _live(self, source: Source, batch: Batch, arrived_ns: int) -> None:
        if source.session != self._present.get(source.relay, source.session):
            raise MessageError("live lines of a recording that it does not write now")
        inlet = self._inlet(source)
        offset_ns = self._clocks.setdefault(source, Punctual()).update(batch.sent_ns, arrived_ns)
        if offset_ns is None:
            self._fill(source, batch)
            raise MessageError(f"live lines that were under way for over {LATE_NS // 10**9} s")
        if not batch.lines:
            self._outlets.show(source, LiveLines(batch.first, (), batch.sent_ns, offset_ns))
            return
        self._keep(source, batch)
        shown, skipped = inlet.show(batch)
        self.skipped += skipped
        if shown:
            first = batch.last - len(shown) + 1
            self._outlets.show(source, LiveLines(first, shown, batch.sent_ns, offset_ns))

    def _fill(self, source: Source, batch: Batch) -> None:
        if kept := self._keep(source, batch):
            self._outlets.filled(source, batch.last - len(kept) + 1, kept)

    def _keep(self, source: Source, batch: Batch) -> tuple[bytes, ...]:
        inlet = self._inlet(source)
        kept = inlet.keep(batch)
        if kept and not self._outlets.keep(source, inlet.stored - len(kept) + 1, kept):
            inlet.not_kept(len(kept))
            return ()
        return kept

    def _inlet(self, source: Source) -> Inlet:
        if source not in self._inlets:
            of_this_relay = sum(known.relay == source.relay for known in self._inlets)
            if of_this_relay >= MOST_SESSIONS:
                raise MessageError(f"more than {MOST_SESSIONS} recordings of one relay")
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
