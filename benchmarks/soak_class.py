"""A class of 24 on virtual time, with everything that can go wrong at once, drawn all the while.

The whole way is taken: simulated radio, links that drop and come back, recording on a disk that
fills up, core, window; and a relay's way over a broker that is cut, to a hub that keeps a copy. The
broker is the tests' one in memory: a real one lives in real time, and eight hours would take eight
hours. Invented data.
"""

import asyncio
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from typing import cast

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "net"))
from memory_broker import MemoryBroker
from PySide6.QtWidgets import QApplication

from benchmarks.endless import endless
from benchmarks.latency import Unheard
from benchmarks.soak_faults import Disk, Timetable, timetable
from benchmarks.soak_watch import Delivered, Held, Pauses, differing, held, recorded
from livemon.app.gym import HOST, gym_of
from livemon.app.hub_copies import HubCopies
from livemon.app.hub_inflow import HubInflow
from livemon.app.hub_post import HubPost
from livemon.app.journaling import Journaling
from livemon.app.live import Live
from livemon.app.relay_ids import OwnIds
from livemon.app.relay_owed import OwedFile
from livemon.app.relay_post import RelayPost
from livemon.app.relay_recorder import RelayRecorder
from livemon.events import Head
from livemon.link.bleak_radio import BleakRadio
from livemon.link.clocks import Clocks
from livemon.link.simulated.air import Air
from livemon.link.simulated.backends import backends
from livemon.link.simulated.faults import schedule
from livemon.link.simulated.sensor import SimulatedSensor
from livemon.link.simulated.virtual_loop import VirtualTimeLoop
from livemon.monitor.session import Session
from livemon.monitor.snapshot import SessionSnapshot
from livemon.net.relay import Clocks as RelayClocks
from livemon.record.reader import open_recording
from livemon.record.writer import Journal
from livemon.synthetic.sessions import OVER_THE_LINE
from livemon.view.qt.window import LiveWindow
from livemon.view.settings import ViewSettings

RELAY, GROUP = "gym", "soak"
#: The links are there, and what the first minutes make is made.
BEGUN_S = 60.0
#: Frames between two looks at what is held: two minutes.
HELD_EVERY = 240
_NS_PER_S = 1e9
_HOUR_NS = 3_600_000_000_000


@dataclass(slots=True)
class Outcome:
    """What came of a soak.

    Attributes:
        delivered: packets that the air handed over.
        lost: by how many packets the recording differs from that.
        sensors_differ: sensors of which anything differs, be it the order.
        copy_differs: the same for the copy at the hub, against the recording.
        strangers: numbers shown in a lane that its own strap did not send.
        turn_ms: the longest turn of the loop, without drawing, in processor time.
    """

    faults: int
    delivered: int = 0
    lost: int = 0
    sensors_differ: int = 0
    copy_differs: int = 0
    strangers: int = 0
    frames: int = 0
    gaps: int = 0
    refused_writes: int = 0
    turn_ms: float = 0.0
    pause_ms: float = 0.0
    took_s: float = 0.0
    held: list[Held] = field(default_factory=list)


class TurnsLoop(VirtualTimeLoop):
    """Also notes the longest turn, less what was spent drawing: that is another thread's work."""

    def __init__(self) -> None:
        super().__init__()
        self.longest_ms, self.drawn_s = 0.0, 0.0

    def _run_once(self) -> None:
        begun_s, self.drawn_s = time.thread_time(), 0.0
        super()._run_once()  # type: ignore[misc] # asyncio's own, which typeshed leaves out
        took_ms = 1000 * (time.thread_time() - begun_s - self.drawn_s)
        if self.time() > BEGUN_S:
            self.longest_ms = max(self.longest_ms, took_ms)


class Soak:
    """One soak; `run` it on a `TurnsLoop`."""

    def __init__(self, folder: Path, *, athletes: int, seconds: float, draw_every: int = 1) -> None:
        self._folder, self._seconds, self._draw_every = folder, seconds, draw_every
        self._gym = endless(gym_of(OVER_THE_LINE, athletes, seed=1))
        self._ids = {id(sensor): ours for ours, sensor in self._gym.sensors}
        self._faults: Timetable = timetable([ours for ours, _ in self._gym.sensors], seconds)
        self._delivered = Delivered()
        self._disk, self._broker = Disk(), MemoryBroker()
        self._broker.log = Forgetful()
        self._newest: list[SessionSnapshot] = []
        self._slept_ns = self._set_ns = 0
        self._window = LiveWindow(
            lambda: self._newest[-1] if self._newest else None,
            Unheard(),
            ViewSettings(),
            play=lambda _: None,
        )
        self._window.resize(1920, 1080)
        self._window.show()
        self._straps = {one.athlete: one.sensor for one in self._gym.head.assigned if not one.sites}
        self.outcome = Outcome(self._faults.count)

    async def run(self) -> Outcome:
        """Let the time pass; return what came of it."""
        loop = asyncio.get_running_loop()
        assert isinstance(loop, TurnsLoop)
        begun_s, pauses = time.thread_time(), Pauses()
        own = OwnIds(RELAY)
        head = own.head(self._gym.head)
        path = self._folder / "session.jsonl"
        journal = Journal(path, head, now_s=0.0, write=self._disk.write)
        post = self._relay_post(head, path, loop)
        hub, copies, inflow = self._hub(loop)
        live = Live(
            self._gym.head,
            self._gym.plans,
            lambda: self._radio(loop),
            self._gym.registry,
            host=HOST,
            now_ns=loop.now_ns,
            chance=Random(5),
            clocks=lambda: self._clocks(loop),
            each_tick=lambda session: self._tick(session, loop, inflow),
            # A journal does for the recorder what a journaling does, without its thread.
            journal=RelayRecorder(cast("Journaling", journal), own, post.take),
        )
        tasks = [asyncio.create_task(one) for one in (hub.run(), post.run(), live.run())]
        self._schedule(loop)
        await asyncio.wait(tasks, timeout=self._seconds, return_when=asyncio.FIRST_COMPLETED)
        await _ended(tasks[2])
        post.finish()
        await asyncio.wait({tasks[1]})
        await _ended(tasks[0])
        copies.close()
        pauses.stop()
        self._window.close()
        self._window.deleteLater()
        self.outcome.pause_ms, self.outcome.turn_ms = pauses.longest_ms, loop.longest_ms
        self.outcome.took_s = time.thread_time() - begun_s
        self._compare(path, self._folder / "copies" / f"{RELAY}-{head.session}.jsonl")
        return self.outcome

    @contextmanager
    def _radio(self, loop: VirtualTimeLoop) -> Iterator[BleakRadio]:
        """Switch the sensors on, and have each delivery told."""

        def delivered(sensor: SimulatedSensor, characteristic: str, payload: bytes) -> None:
            ours = self._ids[id(sensor)]
            self._delivered.take(ours, characteristic, payload, loop.now_ns())

        air = Air(slots=2 * len(self._gym.sensors), on_delivery=delivered)
        for place, (_, sensor) in enumerate(self._gym.sensors):
            air.add(sensor, phase=(place + 1) / (len(self._gym.sensors) + 1))
        by_id = dict(self._gym.sensors)
        for one in self._faults.radio:
            schedule(one.fault, air, by_id[one.sensor], at_s=one.at_s, for_s=one.for_s)
        try:
            yield BleakRadio(
                loop.now_ns, system=HOST, announce=lambda _: None, backends=backends(air)
            )
        finally:
            air.close()

    def _schedule(self, loop: VirtualTimeLoop) -> None:
        """Let disk, broker and clocks go wrong when they have to."""

        def spell(
            begin_s: float, end_s: float, on: Callable[[], None], off: Callable[[], None]
        ) -> None:
            loop.call_at(begin_s, on)
            loop.call_at(end_s, off)

        for full in self._faults.full:
            spell(full.begin_s, full.end_s, self._disk.fill, self._disk.empty)
        for cut in self._faults.broker:
            spell(cut.begin_s, cut.end_s, self._broker_down, self._broker_up)
        for slept in self._faults.slept:
            loop.call_at(slept.begin_s, self._sleep, slept.end_s - slept.begin_s)
        for at_s in self._faults.clock_set:
            loop.call_at(at_s, self._set_clock)

    def _broker_down(self) -> None:
        self._broker.up = False
        self._broker.restart(forgets=True)

    def _broker_up(self) -> None:
        self._broker.up = True

    def _sleep(self, for_s: float) -> None:
        # The session's clock stands still meanwhile, as on Linux; two others have gone on.
        self._slept_ns += round(for_s * _NS_PER_S)
        self.outcome.gaps += 1

    def _set_clock(self) -> None:
        self._set_ns += _HOUR_NS
        self.outcome.gaps += 1

    def _clocks(self, loop: VirtualTimeLoop) -> Clocks:
        boot_ns = loop.now_ns() + self._slept_ns
        return Clocks(loop.now_ns(), boot_ns + self._set_ns, boot_ns)

    def _tick(self, session: Session, loop: TurnsLoop, inflow: HubInflow) -> None:
        """Draw, look at the numbers, and now and then at what is held."""
        for _ in inflow.due(loop.now_ns()):  # the hub's session is not what is looked at here
            pass
        self.outcome.frames += 1
        if self.outcome.frames % self._draw_every:
            return
        self._newest[:] = [session.snapshot()]
        self.outcome.strangers += self._delivered.strangers(self._newest[0], self._straps)
        begun_s = time.thread_time()
        self._window.refresh()
        QApplication.processEvents()
        if self.outcome.frames % HELD_EVERY == 0:
            self.outcome.held.append(held(loop.time(), self._window))
        loop.drawn_s += time.thread_time() - begun_s

    def _relay_post(self, head: Head, path: Path, loop: VirtualTimeLoop) -> RelayPost:
        return RelayPost(
            GROUP,
            RELAY,
            head,
            path,
            OwedFile(self._folder),
            "soak",
            lambda will: self._broker.door(RELAY, will),
            RelayClocks(loop.now_ns, lambda: loop.now_ns() // 1_000_000),
            Random(1),
        )

    def _hub(self, loop: VirtualTimeLoop) -> tuple[HubPost, HubCopies, HubInflow]:
        inflow, copies = HubInflow(), HubCopies(self._folder / "copies")
        door = self._broker.door("hub")
        post = HubPost(GROUP, door, copies, inflow, now_ns=loop.now_ns, chance=Random(2))
        return post, copies, inflow

    def _compare(self, path: Path, copy: Path) -> None:
        """Hold recording and copy against what was delivered."""
        out, chains = self.outcome, self._delivered.chains
        measured = frozenset(
            (f"{RELAY}.{plan.sensor}", channel.characteristic)
            for plan in self._gym.plans
            for channel in plan.channels
        )
        written = recorded(open_recording(path).events(), measured)
        out.delivered = sum(chain.count for chain in chains.values())
        delivered = {f"{RELAY}.{sensor}": chain for sensor, chain in chains.items()}
        out.lost, out.sensors_differ = differing(delivered, written)
        kept = recorded(open_recording(copy).events(), measured)
        out.copy_differs = differing(written, kept)[1]
        out.refused_writes = self._disk.refused


class Forgetful(list):  # type: ignore[type-arg] # stands where a test would collect
    """A list that keeps nothing."""

    def append(self, _: object) -> None:
        """Keep nothing."""


async def _ended(task: "asyncio.Task[None]") -> None:
    task.cancel()
    with suppress(asyncio.CancelledError):
        await task
