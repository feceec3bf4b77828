"""Relays and a hub around a broker, and what came of it."""

import asyncio
from collections import defaultdict
from collections.abc import Callable, Coroutine
from contextlib import suppress
from random import Random

from livemon.net.broker import Broker, Will
from livemon.net.hub import Hub, LiveLines, Outlets, Source
from livemon.net.journal import Journal
from livemon.net.keep_connected import keep_connected
from livemon.net.relay import Clocks, Relay

GROUP = "class-a"

#: Makes a way to the broker for a client with this id and will.
Entrance = Callable[[str, Will | None], Broker]


class RelayMachine:
    """A relay and its disk; the program on it can be killed and started again."""

    def __init__(
        self,
        name: str,
        entrance: Entrance,
        now_ns: Callable[[], int],
        sleep: Callable[[float], Coroutine[None, None, None]] = asyncio.sleep,
        group: str = GROUP,
    ) -> None:
        self._group = group
        self.name = name
        self._sleep = sleep
        self.disk: dict[str, list[bytes]] = {}
        self.told: list[str] = []
        self._entrance = entrance
        self._now_ns = now_ns
        self._runs = 0
        self._task: asyncio.Task[None] | None = None
        self.relay: Relay | None = None

    def start(self) -> None:
        """Begin a new recording, and send what earlier ones still owe."""
        self._runs += 1
        session = f"{self.name}-run-{self._runs}"
        earlier = tuple(self._journal(one) for one in self.disk)
        self.disk[session] = []
        self.relay = Relay(
            self._group,
            self.name,
            self._journal(session),
            Clocks(self._now_ns, lambda: self._now_ns() // 1_000_000),
            earlier=earlier,
        )
        broker = self._entrance(f"relay-{self.name}", self.relay.will)
        self._task = asyncio.create_task(
            keep_connected(
                broker,
                self.relay.work,
                chance=Random(self._runs),
                tell=self.told.append,
                sleep=self._sleep,
            )
        )

    def write(self, line: bytes) -> None:
        assert self.relay is not None
        self.disk[f"{self.name}-run-{self._runs}"].append(line)
        self.relay.wrote(line)

    async def stop(self) -> None:
        assert self._task is not None
        await ended(self._task)

    def _journal(self, session: str) -> Journal:
        lines = self.disk.setdefault(session, [])
        return Journal(
            session,
            head=f'{{"session":"{session}"}}'.encode(),
            read=lambda numbers: tuple(lines[n - 1] for n in numbers),
            written=len(lines),
        )


class HubMachine:
    """A hub and its disk."""

    def __init__(
        self,
        entrance: Entrance,
        now_ns: Callable[[], int],
        sleep: Callable[[float], Coroutine[None, None, None]] = asyncio.sleep,
        group: str = GROUP,
    ) -> None:
        self._group = group
        self._sleep = sleep
        self.disk: dict[Source, list[bytes]] = defaultdict(list)
        self.shown: list[tuple[Source, int, bytes]] = []
        self.there: dict[str, bool] = {}
        self.meta: dict[str, bytes] = {}
        self.told: list[str] = []
        self.filled: list[tuple[Source, int, tuple[bytes, ...]]] = []
        self.heard: list[Source] = []
        self.disk_is_full = False
        self.hub: Hub | None = None
        self._entrance = entrance
        self._now_ns = now_ns
        self._task: asyncio.Task[None] | None = None

    def start(self) -> None:
        self.hub = Hub(
            self._group,
            Outlets(
                stored=lambda source: len(self.disk[source]),
                keep=self._keep,
                show=self._show,
                filled=lambda source, first, lines: self.filled.append((source, first, lines)),
                meta=self.meta.__setitem__,
                there=lambda source, there: self.there.__setitem__(source.relay, there),
            ),
            now_ns=self._now_ns,
        )
        identifier = "hub" if self._group == GROUP else f"hub-{self._group}"
        broker = self._entrance(identifier, None)
        self._task = asyncio.create_task(
            keep_connected(
                broker,
                self.hub.work,
                chance=Random(99),
                tell=self.told.append,
                sleep=self._sleep,
            )
        )

    async def stop(self) -> None:
        assert self._task is not None
        await ended(self._task)

    def _show(self, source: Source, live: LiveLines) -> None:
        self.heard.append(source)
        self.shown += [(source, live.offset_ns, line) for line in live.lines]

    def _keep(self, source: Source, first: int, lines: tuple[bytes, ...]) -> bool:
        if self.disk_is_full:
            return False
        assert first == len(self.disk[source]) + 1
        self.disk[source].extend(lines)
        return True

    def has_all_of(self, machine: RelayMachine) -> bool:
        return all(
            self.disk[Source(machine.name, session)] == lines
            for session, lines in machine.disk.items()
        )

    def shown_of(self, machine: RelayMachine) -> list[bytes]:
        return [line for source, _, line in self.shown if source.relay == machine.name]


async def ended(task: asyncio.Task[None]) -> None:
    task.cancel()
    with suppress(asyncio.CancelledError):
        await task
