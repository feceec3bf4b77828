"""A relay and a hub as the program puts them together, on virtual time, the broker in memory."""

import asyncio
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from random import Random

from memory_broker import MemoryBroker

from livemon.app.hub_copies import HubCopies
from livemon.app.hub_inflow import HubInflow
from livemon.app.hub_post import HubPost
from livemon.app.journaling import Journaling
from livemon.app.live import Live
from livemon.app.relay_ids import OwnIds
from livemon.app.relay_owed import OwedFile
from livemon.app.relay_play import Played
from livemon.app.relay_post import RelayPost
from livemon.app.relay_recorder import RelayRecorder
from livemon.events import Event, Head
from livemon.link.clocks import Clocks as AllClocks
from livemon.link.simulated.virtual_loop import VirtualTimeLoop
from livemon.monitor.payload import snapshot_line
from livemon.net.relay import Clocks

GROUP = "class-a"
STARTED = "2026-03-02T17:30:00+00:00"


def now_ns() -> int:
    loop = asyncio.get_running_loop()
    assert isinstance(loop, VirtualTimeLoop)
    return loop.now_ns()


class RelaySide:
    """A relay that plays events, and its disk."""

    def __init__(self, folder: Path, broker: MemoryBroker, relay: str) -> None:
        self.relay = relay
        self.recordings: list[Path] = []
        self._folder = folder / relay
        self._folder.mkdir()
        self._broker = broker
        self._tasks: list[asyncio.Task[None]] = []
        self.post: RelayPost

    def start(self, head: Head, events: Iterable[Event], session: str) -> None:
        """Begin a session whose time began when virtual time did."""
        own = OwnIds(self.relay)
        own_head = own.head(replace(head, session=session, started_utc=STARTED))
        path = self._folder / f"{session}.jsonl"
        journaling = Journaling(path, own_head)
        self.recordings.append(path)
        self.post = RelayPost(
            GROUP,
            self.relay,
            own_head,
            path,
            OwedFile(self._folder),
            f"memory/{GROUP}/{self.relay}",
            lambda will: self._broker.door(f"relay-{self.relay}", will),
            Clocks(now_ns, lambda: now_ns() // 1_000_000),
            Random(1),
        )
        recorder = RelayRecorder(journaling, own, self.post.take)
        played = Played(iter(events), recorder, now_ns=now_ns)
        self._tasks = [asyncio.create_task(self.post.run()), asyncio.create_task(played.run())]

    async def stop(self) -> None:
        """End in good order: the sensors first, then the way to the broker."""
        posting, playing = self._tasks
        await ended(playing)
        self.post.finish()
        await posting

    def kill(self) -> None:
        """End without a word."""
        self._broker.cut(f"relay-{self.relay}")
        for task in self._tasks:
            task.cancel()


class HubSide:
    """A hub with its session and its disk."""

    def __init__(self, folder: Path, broker: MemoryBroker) -> None:
        self.folder = folder / "hub"
        self.folder.mkdir(exist_ok=True)
        self.lines: list[str] = []
        self.journal = self.folder / "session.jsonl"
        inflow = HubInflow()
        self.copies = HubCopies(self.folder / "copies")
        self.post = HubPost(
            GROUP,
            broker.door("hub"),
            self.copies,
            inflow,
            now_ns=now_ns,
            chance=Random(2),
        )
        head = Head(STARTED, "hub-session")
        self.live = Live(
            head,
            (),
            None,
            (),
            host="hub",
            now_ns=now_ns,
            chance=Random(3),
            journal=Journaling(self.journal, head),
            clocks=lambda: AllClocks(now_ns(), now_ns(), None),
            each_tick=lambda session: self.lines.append(snapshot_line(session.snapshot())),
            inflow=inflow,
        )
        self._tasks = [asyncio.create_task(self.post.run()), asyncio.create_task(self.live.run())]

    async def stop(self) -> None:
        for task in self._tasks:
            await ended(task)
        self.copies.close()

    def copy_of(self, relay: str, session: str) -> Path:
        return self.folder / "copies" / f"{relay}-{session}.jsonl"


async def ended(task: "asyncio.Task[None]") -> None:
    task.cancel()
    with suppress(asyncio.CancelledError):
        await task
