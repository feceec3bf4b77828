"""A hub's way to the broker, in a thread and a loop of its own, apart from Bluetooth's.

Here lines are kept and read; what they say goes to the session through the inflow.
"""

from collections.abc import Callable, Coroutine, Mapping
from random import Random
from types import MappingProxyType
from typing import Any, Final

from livemon.app.engine import Engine
from livemon.app.hub_copies import HubCopies
from livemon.app.hub_events import RelayedEvents
from livemon.app.hub_inflow import HubInflow
from livemon.app.hub_names import named
from livemon.app.hub_words import HubStanding, RelayHeard
from livemon.errors import RecordingError
from livemon.events import Event
from livemon.monitor.snapshot import SessionSnapshot
from livemon.net.broker import Broker, Connection
from livemon.net.first_to_end import first_to_end
from livemon.net.hub import Hub, LiveLines, Outlets, Source
from livemon.net.keep_connected import keep_connected
from livemon.net.refusals import Refusals
from livemon.net.trouble import MessageError
from livemon.record.head import decode_head, encode_head
from livemon.record.sync import Syncer
from livemon.tongue import marked

_NS_PER_S: Final = 1e9


class HubPost:
    """Fulfils `Program`: listens to the relays of a group.

    Args:
        now_ns: the session's clock.
        beside: what else is done on each connection.
        names: of athletes by their ids, as known here.
    """

    latest: SessionSnapshot | None = None

    def __init__(
        self,
        group: str,
        broker: Broker,
        copies: HubCopies,
        inflow: HubInflow,
        *,
        now_ns: Callable[[], int],
        chance: Random,
        beside: Callable[[Connection], Coroutine[Any, Any, None]] | None = None,
        names: Mapping[str, str] = MappingProxyType({}),
    ) -> None:
        self._broker = broker
        self._copies = copies
        self._inflow = inflow
        self._now_ns = now_ns
        self._chance = chance
        self._beside = beside
        self._names = names
        self._relays: dict[str, RelayedEvents] = {}
        self._heard_ns: dict[str, int] = {}
        self._left: set[str] = set()
        self._present: dict[str, str] = {}
        self._refused_ns: int | None = None
        self._trouble = marked("not connected yet")
        self._refusals = Refusals(self._refused)
        outlets = Outlets(
            stored=copies.stored,
            keep=lambda source, _, lines: copies.keep(source, lines),
            show=self._show,
            filled=self._filled,
            meta=self._meta,
            there=self._there,
        )
        self._hub = Hub(group, outlets, now_ns=now_ns, refusals=self._refusals)
        self._syncer = Syncer()
        self._engine = Engine(self, ended=self._ended, name="livemon-mqtt")

    def start(self) -> None:
        """Begin, in the other thread."""
        self._syncer.start(self._copies.sync)
        self._engine.start()

    def stop(self) -> None:
        """Say goodbye and put everything onto the disk."""
        self._engine.stop()
        self._syncer.stop()
        self._copies.close()

    async def run(self) -> None:
        """Stay connected; see `Program`."""
        await keep_connected(self._broker, self._work, chance=self._chance, tell=self._tell)

    async def _work(self, connection: Connection) -> None:
        if self._beside is None:
            await self._hub.work(connection)
        else:
            await first_to_end(self._hub.work(connection), self._beside(connection))

    def standing(self) -> HubStanding:
        """Return how everything stands; from any thread."""
        now_ns = self._now_ns()
        refused = None
        if self._refused_ns is not None:
            refused = self._refusals.newest, (now_ns - self._refused_ns) / _NS_PER_S
        return HubStanding(
            self._trouble,
            self._copies.problem,
            tuple(
                RelayHeard(relay, (now_ns - heard_ns) / _NS_PER_S, relay in self._left)
                for relay, heard_ns in sorted(self._heard_ns.copy().items())
            ),
            refused,
        )

    @property
    def refusals(self) -> Refusals:
        """What was refused so far."""
        return self._refusals

    def _tell(self, trouble: str) -> None:
        self._trouble = trouble

    def _ended(self) -> None:
        if self._engine.failure is not None:
            self._inflow.fail(self._engine.failure)

    def _relay(self, relay: str) -> RelayedEvents:
        if relay not in self._relays:
            self._relays[relay] = RelayedEvents(
                relay, lambda why: self._refusals.refuse(relay, why)
            )
        return self._relays[relay]

    def _refused(self) -> None:
        self._refused_ns = self._now_ns()

    def _meta(self, relay: str, line: bytes) -> None:
        try:
            head = decode_head(line)
        except RecordingError as error:
            raise MessageError(f"a head that can't be used: {error}") from error
        self._relay(relay).head(head)
        self._copies.head(Source(relay, head.session), encode_head(head))
        self._begin(relay)

    def _there(self, source: Source, there: bool) -> None:
        self._present[source.relay] = source.session
        if there:
            self._left.discard(source.relay)
            self._heard(source.relay)
            self._begin(source.relay)
        elif source.relay in self._heard_ns:
            self._left.add(source.relay)
            self._inflow.forget(source.relay)

    def _begin(self, relay: str) -> None:
        """Let the session know the kit, once the relay told its head and that it is there."""
        if relay in self._heard_ns:
            session = self._present.get(relay, "")
            self._put(relay, self._relay(relay).begin(session, self._now_ns()))

    def _show(self, source: Source, live: LiveLines) -> None:
        self._left.discard(source.relay)  # what counts is the age of the data
        self._heard(source.relay)
        events = self._relay(source.relay).live(source.session, live, self._now_ns())
        self._put(source.relay, events)

    def _filled(self, source: Source, first: int, lines: tuple[bytes, ...]) -> None:
        now_ns = self._now_ns()
        self._put(
            source.relay, self._relay(source.relay).filled(source.session, first, lines, now_ns)
        )

    def _heard(self, relay: str) -> None:
        self._heard_ns[relay] = self._now_ns()

    def _put(self, relay: str, events: list[Event]) -> None:
        if events:
            self._inflow.put(relay, named(events, self._names))
