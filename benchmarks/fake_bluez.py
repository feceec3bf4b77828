"""Load on the Bluetooth side: many make-believe sensors in a process of their own, read by ours.

    python -m benchmarks.fake_bluez --sensors 30 --rate-hz 10 --seconds 120

The way is the real one except for the air: bleak's Linux backend, our radio and supervision, up to
the call that hands an event to the core. Each payload carries its number and the moment it was
sent (one monotonic clock for all processes of a computer), so gaps and delays show themselves.
Afterwards all sensors drop at once, and it is measured how long each takes to be read again.
"""

import argparse
import asyncio
import os
import resource
import statistics
import struct
import sys
import time
from collections.abc import AsyncIterator, Iterable, Iterator
from contextlib import asynccontextmanager
from random import Random

from benchmarks.figure import Figure, line
from livemon.events import Event, Notification
from livemon.link.bleak_radio import BleakRadio
from livemon.link.fake_bluez.bus import private_bus
from livemon.link.fake_bluez.description import Adapter, Characteristic, Peripheral, Service
from livemon.link.fake_bluez.service import FakeBluez, fake_bluez
from livemon.link.identity import HostAddress, Remembered
from livemon.link.plan import Plan
from livemon.link.radio import Channel
from livemon.link.silence import Patience
from livemon.link.supervision import Supervision

# 128-bit UUIDs of an invented sensor.
SERVICE = "7a1c0001-51d5-4a3e-9f64-0e6c2a90b3d1"
VALUES = "7a1c0002-51d5-4a3e-9f64-0e6c2a90b3d1"
PAYLOAD = struct.Struct("<IQ")  # number, moment in ns
HOST = "this computer"
DROP = b"drop\n"
SENSORS, RATE_HZ, SHORT_S, LONG_S, P99_MS = 30, 10.0, 20.0, 120.0, 10.0


def crowd(count: int) -> list[Peripheral]:
    """Return sensors that differ in their address only."""
    values = Characteristic(VALUES, ("notify",))
    return [
        Peripheral(f"C0:00:00:00:{n // 256:02X}:{n % 256:02X}", f"sensor {n}",
                   (Service(SERVICE, (values,)),))
        for n in range(count)
    ]  # fmt: skip


async def emulate(bus_address: str, count: int, rate_hz: float) -> None:
    """Be the sensors, until standard input ends; a line there makes all links drop."""
    sensors = crowd(count)
    loop = asyncio.get_running_loop()
    lines = asyncio.StreamReader()
    await loop.connect_read_pipe(lambda: asyncio.StreamReaderProtocol(lines), sys.stdin)
    adapter = Adapter(advertising_interval_s=1.285)  # the longest interval in common use
    async with fake_bluez(bus_address, sensors, adapter) as bluez, asyncio.TaskGroup() as group:
        print("ready", flush=True)
        sending = [
            group.create_task(send(bluez, sensor.address, rate_hz, n / count))
            for n, sensor in enumerate(sensors)
        ]
        while await lines.readline() == DROP:
            for sensor in sensors:
                bluez.drop(sensor.address)
        for task in sending:
            task.cancel()


async def send(bluez: FakeBluez, address: str, rate_hz: float, phase: float) -> None:
    """Notify in a steady rhythm whenever somebody is subscribed."""
    loop = asyncio.get_running_loop()
    due_s, number = loop.time() + phase / rate_hz, 0
    while True:
        await asyncio.sleep(max(0.0, due_s - loop.time()))
        due_s += 1 / rate_hz
        if bluez.send(address, VALUES, PAYLOAD.pack(number, time.monotonic_ns())):
            number += 1


class Gauge:
    """What arrives at the door of the core."""

    def __init__(self) -> None:
        self.delays_ms: list[float] = []
        self.missed = 0
        self._next: dict[str, int] = {}
        self._unheard: set[str] = set()
        self._all_heard = asyncio.Event()

    def emit(self, event: Event) -> None:
        """Take what supervision hands to the core."""
        now_ns = time.monotonic_ns()
        if not isinstance(event, Notification):
            return
        number, sent_ns = PAYLOAD.unpack(event.payload)
        self.delays_ms.append((now_ns - sent_ns) / 1e6)
        self.missed += number - self._next.get(event.sensor, number)
        self._next[event.sensor] = number + 1
        self._unheard.discard(event.sensor)
        if not self._unheard:
            self._all_heard.set()

    async def hear(self, sensors: Iterable[Peripheral]) -> float:
        """Wait until each of `sensors` was heard from now on; return how many seconds it took."""
        began = time.perf_counter()
        self._unheard = {sensor.address for sensor in sensors}
        self._all_heard.clear()
        await self._all_heard.wait()
        return time.perf_counter() - began

    def report(self, what: str, seconds: float) -> list[Figure]:
        """Return rate, gaps and delays."""
        cuts = statistics.quantiles(self.delays_ms, n=1000, method="inclusive")
        count = len(self.delays_ms)
        delays = f"median {cuts[499]:.2f} ms, at most {max(self.delays_ms):.1f} ms"
        rate = f"{count:,} came, {count / seconds:.0f} a second"
        return [
            Figure(
                f"{what}: sent to core, 99th percentile", cuts[989], "ms", P99_MS, beside=delays
            ),
            Figure(f"{what}: notifications missing", self.missed, "", 0.0, beside=rate),
        ]


@asynccontextmanager
async def supervised(sensors: Iterable[Peripheral], gauge: Gauge) -> AsyncIterator[Supervision]:
    """Run our side."""
    registry = tuple(
        Remembered(s.address, s.name, s.name, addresses=(HostAddress(HOST, s.address),))
        for s in sensors
    )
    supervision = Supervision(
        BleakRadio(time.monotonic_ns, system="Linux", announce=lambda _: None),
        gauge.emit,
        registry,
        HOST,
        now_ns=time.monotonic_ns,
        chance=Random(1),
        services=frozenset({SERVICE}),
    )
    supervision.start()
    for known in registry:
        plan = Plan(known.sensor, (Channel(VALUES, SERVICE),), patience=Patience.for_period(1.0))
        supervision.keep(plan)
    try:
        yield supervision
    finally:
        await supervision.stop()


async def measure(count: int, rate_hz: float, seconds: float) -> list[Figure]:
    """Run it all and return what came of it."""
    what = f"{count} sensors at {rate_hz:g} Hz"
    async with private_bus() as address:
        os.environ["DBUS_SYSTEM_BUS_ADDRESS"] = address
        arguments = ("--emulate", address, "--sensors", str(count), "--rate-hz", str(rate_hz))
        emulator = await asyncio.create_subprocess_exec(
            sys.executable, "-m", "benchmarks.fake_bluez", *arguments,
            stdin=asyncio.subprocess.PIPE, stdout=asyncio.subprocess.PIPE,
        )  # fmt: skip
        assert emulator.stdin is not None
        assert emulator.stdout is not None
        await emulator.stdout.readline()
        gauge = Gauge()
        async with supervised(crowd(count), gauge):
            first_s = await gauge.hear(crowd(count))
            gauge.delays_ms.clear()
            cpu_s = time.process_time()
            await asyncio.sleep(seconds)
            found = gauge.report(what, seconds)
            share_pct = 100 * (time.process_time() - cpu_s) / seconds
            emulator.stdin.write(DROP)
            again_s = await gauge.hear(crowd(count))
        emulator.stdin.close()
        await emulator.wait()
    rss_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return [
        *found,
        Figure("our process", share_pct, "% of a core", beside=f"{rss_mb:.0f} MB at most"),
        Figure("all read after the start", first_s, "s"),
        Figure("all read again after all dropped at once", again_s, "s"),
    ]


def figures() -> Iterator[Figure]:
    """Measure for a short while."""
    yield from asyncio.run(measure(SENSORS, RATE_HZ, SHORT_S))


def long_figures() -> Iterator[Figure]:
    """Measure for longer."""
    yield from asyncio.run(measure(SENSORS, RATE_HZ, LONG_S))


def main() -> None:
    """Read the arguments and go."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--sensors", type=int, default=SENSORS)
    parser.add_argument("--rate-hz", type=float, default=RATE_HZ)
    parser.add_argument("--seconds", type=float, default=SHORT_S)
    parser.add_argument("--emulate", metavar="BUS", help=argparse.SUPPRESS)
    given = parser.parse_args()
    if given.emulate:
        asyncio.run(emulate(given.emulate, given.sensors, given.rate_hz))
    else:
        found = asyncio.run(measure(given.sensors, given.rate_hz, given.seconds))
        print(*map(line, found), sep="\n")


if __name__ == "__main__":
    main()
