"""What relays and a hub can do: 8 relays with 6 sensors each at 10 Hz, through Mosquitto.

    python -m benchmarks.relay [SECONDS [ATHLETES]]     on loopback (default 60 s and 16)
    python -m benchmarks.relay hour                     the hub's memory, an hour of virtual time

The same through the hub's own broker: relay_share.py.

Relays, broker and hub are processes of their own. Times of events and of the hub's snapshots are
read from one clock, so the latency is from the moment an event is stamped at the relay to the
moment at which a snapshot that holds it can be drawn. Invented readings.
"""

import asyncio
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from random import Random

from benchmarks.figure import Figure, line
from benchmarks.relay_players import (
    ATHLETES,
    GROUP,
    RATE_HZ,
    RELAYS,
    STARTED,
    events_of,
    head_of,
    now_since,
    relays,
)
from livemon.app.hub_copies import HubCopies
from livemon.app.hub_inflow import HubInflow
from livemon.app.hub_post import HubPost
from livemon.app.journaling import Journaling
from livemon.app.live import Live
from livemon.events import Event, Head, Notification
from livemon.link.clocks import read_clocks
from livemon.net.address import BrokerAddress
from livemon.net.mqtt import MqttBroker
from livemon.record.reader import open_recording

SHORT_S, LONG_S = 25.0, 60.0
P99_MS = 250.0


class Watch:
    """How old each event is when a snapshot that holds it can be drawn."""

    def __init__(self, inflow: HubInflow, start_ns: int) -> None:
        self._inflow = inflow
        self._start_ns = start_ns
        self._fed: list[int] = []
        self.ages_ms: list[float] = []

    def due(self, now_ns: int) -> Iterator[Event]:
        """Pass on what is due, and remember its times."""
        for event in self._inflow.due(now_ns):
            if isinstance(event, Notification):
                self._fed.append(event.t_ns)
            yield event

    def settled_ns(self, now_ns: int) -> int:
        """Pass on."""
        return self._inflow.settled_ns(now_ns)

    def drawn(self) -> None:
        """Take note that a snapshot is there."""
        now_ns = now_since(self._start_ns)
        self.ages_ms += [(now_ns - t_ns) / 1e6 for t_ns in self._fed]
        self._fed.clear()


@dataclass(frozen=True, slots=True)
class Way:
    """How the hub comes in, and what relays need: a port, and a code where one is asked for."""

    hub: BrokerAddress
    secret: str = ""


@contextmanager
def mosquitto(folder: Path) -> Iterator[Way]:
    """Run a broker for nobody but this computer."""
    conf = folder / "mosquitto.conf"
    port = 18_883
    conf.write_text(f"listener {port} 127.0.0.1\nallow_anonymous true\nmax_packet_size 70000\n")
    program = shutil.which("mosquitto") or "/usr/sbin/mosquitto"
    running = subprocess.Popen([program, "-c", conf], stderr=subprocess.DEVNULL)
    try:
        time.sleep(0.5)
        yield Way(BrokerAddress("127.0.0.1", port, False, GROUP))
    finally:
        running.terminate()
        running.wait()


async def hub(folder: Path, address: BrokerAddress, start_ns: int, seconds: float) -> list[Figure]:
    """Be the hub, and report."""
    inflow = HubInflow()
    watch = Watch(inflow, start_ns)
    copies = HubCopies(folder / "copies")
    post = HubPost(
        GROUP,
        MqttBroker(address, "hub"),
        copies,
        inflow,
        now_ns=lambda: now_since(start_ns),
        chance=Random(0),
    )
    head = Head(STARTED, "hub")
    journal = folder / "hub.jsonl"
    live = Live(
        head,
        (),
        None,
        (),
        host="bench",
        now_ns=lambda: now_since(start_ns),
        chance=Random(0),
        journal=Journaling(journal, head),
        clocks=lambda: read_clocks(lambda: now_since(start_ns)),
        inflow=watch,
    )
    live.on_step(watch.drawn)
    post.start()
    running = asyncio.create_task(live.run())
    await asyncio.sleep(5)  # until all are there
    cpu_s, wall_s = time.process_time(), time.perf_counter()
    await asyncio.sleep(max(5.0, seconds - 8))
    share = (time.process_time() - cpu_s) / (time.perf_counter() - wall_s)
    await asyncio.sleep(10)
    offsets = [clock._offset._held_ns or 0 for clock in post._hub._clocks.values()]
    running.cancel()
    await asyncio.wait({running})
    post.stop()
    return report(folder, journal, watch, share, max(offsets) / 1e6, post)


def report(
    folder: Path, journal: Path, watch: Watch, share: float, offset_ms: float, post: HubPost
) -> list[Figure]:
    """Return what came of it."""
    sent = [
        event
        for n in range(RELAYS)
        for event in open_recording(folder / f"r{n}" / "session.jsonl").events()
        if isinstance(event, Notification)
    ]
    shown = [e for e in open_recording(journal).events() if isinstance(e, Notification)]
    kept = sum(
        (folder / f"r{n}" / "session.jsonl").read_bytes().count(b'"type":"data"')
        == (folder / "copies" / f"r{n}-bench-{n}.jsonl").read_bytes().count(b'"type":"data"')
        for n in range(RELAYS)
    )
    sensors = {e.sensor for e in sent}
    disordered = sum(
        [e.payload for e in shown if e.sensor == sensor]
        != [e.payload for e in sent if e.sensor == sensor]
        for sensor in sensors
    )
    ages = sorted(age + offset_ms for age in watch.ages_ms)
    what = f"{RELAYS} relays, {len(sensors)} sensors at {RATE_HZ} Hz"
    beside = f"median {statistics.median(ages):.0f} ms, at most {ages[-1]:.0f} ms"
    return [
        Figure(
            f"{what}: event to snapshot, 99th percentile", ages[int(len(ages) * 0.99)], "ms",
            P99_MS, beside=beside,
        ),
        Figure(
            "sensors whose readings were not shown once and in order", disordered, "", 0.0,
            beside=f"{len(sent):,} sent, {len(shown):,} shown",
        ),
        Figure("recordings whole at the hub", kept, "", None, RELAYS),
        Figure("the hub's share of a core", 100 * share, "%",
               beside=f"refused {post.refusals.total}"),
    ]  # fmt: skip


def measured(
    seconds: float, athletes: int, broker: Callable[[Path], AbstractContextManager[Way]]
) -> list[Figure]:
    """Run broker, relays and hub."""
    with tempfile.TemporaryDirectory() as name, broker(Path(name)) as way:
        start_ns = time.perf_counter_ns()
        words = [
            sys.executable, "-m", "benchmarks.relay", "relays",
            name, way.hub.port, way.secret, start_ns, seconds, athletes,
        ]  # fmt: skip
        playing = subprocess.Popen([str(word) for word in words])
        try:
            with asyncio.Runner(loop_factory=asyncio.SelectorEventLoop) as runner:
                return runner.run(hub(Path(name), way.hub, start_ns, seconds))
        finally:
            playing.terminate()
            playing.wait()


def figures() -> Iterator[Figure]:
    """Measure for a short while."""
    yield from measured(SHORT_S, ATHLETES, mosquitto)


def long_figures() -> Iterator[Figure]:
    """Measure for longer."""
    yield from measured(LONG_S, ATHLETES, mosquitto)


def hour() -> None:
    """Print the hub's memory; relays and broker are in the same process, and virtual like time."""
    sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "net"))
    from memory_broker import MemoryBroker
    from relayed_session import HubSide, RelaySide

    from livemon.link.simulated.virtual_loop import run_virtually

    async def run(folder: Path) -> None:
        broker = MemoryBroker()
        hub_side = HubSide(folder, broker)
        hub_side.lines = Forgetful()
        broker.log = Forgetful()
        sides = [RelaySide(folder, broker, f"r{n}") for n in range(RELAYS)]
        for n, side in enumerate(sides):
            head = replace(head_of(n), session=f"s{n}")
            side.start(head, events_of(head, 3600, 0, 1.0), f"s{n}")
        for minute in range(10, 61, 10):
            await asyncio.sleep(600)
            print(f"after {minute} min: {megabytes():.1f} MB", flush=True)
        for side in sides:
            await side.stop()
        await hub_side.stop()

    with tempfile.TemporaryDirectory() as name:
        run_virtually(run(Path(name)))


def megabytes() -> float:
    """Return this process's memory (Linux)."""
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * resource.getpagesize() / 1_048_576


class Forgetful(list):  # type: ignore[type-arg]  # stands where a test would collect
    """A list that keeps nothing."""

    def append(self, _: object) -> None:
        """Keep nothing."""


def main() -> None:
    """Do what the words say."""
    match sys.argv[1:]:
        case ["relays", folder, port, secret, start_ns, seconds, athletes]:
            with asyncio.Runner(loop_factory=asyncio.SelectorEventLoop) as runner:
                playing = relays(
                    Path(folder), int(port), secret, int(start_ns), float(seconds), int(athletes)
                )
                runner.run(playing)
        case ["hour"]:
            hour()
        case [seconds, athletes]:
            tell(measured(float(seconds), int(athletes), mosquitto))
        case [seconds]:
            tell(measured(float(seconds), ATHLETES, mosquitto))
        case _:
            tell(measured(LONG_S, ATHLETES, mosquitto))


def tell(figures: list[Figure]) -> None:
    """Print them."""
    print(*map(line, figures), sep="\n")


if __name__ == "__main__":
    main()
