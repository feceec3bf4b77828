"""`livemon live` over bleak on Linux, ended in every way: its sensors are free, or adopted again.

The Bluetooth service is a make-believe one that outlives livemon, as BlueZ does: a link whose
program was killed stays (https://github.com/hbldh/bleak/issues/1222).
"""

import asyncio
import os
import shutil
import signal
import sys
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path

import pytest

from livemon.events import End, LinkDown, LinkUp, Notification
from livemon.record.reader import open_recording

pytestmark = pytest.mark.skipif(
    not sys.platform.startswith("linux") or shutil.which("dbus-daemon") is None,
    reason="needs Linux and the package dbus-daemon",
)

ADDRESSES = ("C0:00:00:00:00:01", "C0:00:00:00:00:02")
HEART_RATE = "0000180d-0000-1000-8000-00805f9b34fb"
MEASUREMENT = "00002a37-0000-1000-8000-00805f9b34fb"
OXIMETER = "604a413e-e6df-4592-acfa-848a997df26c"  #: of the shipped adapter "invented-plain"
OXYGENATION = "9424e894-6ab9-455e-9e3b-74472d54392c"
#: Who waits longer waits for ever; a start takes two or three seconds on a busy machine.
WITHIN_S = 30.0


class Gym:
    """A strap and an oximeter that count, and the service that holds their links."""

    def __init__(self, bluez, bus: str, folder: Path) -> None:  # type: ignore[no-untyped-def] # a class that only Linux can import
        self.bluez = bluez
        self._bus = bus
        self._folder = folder

    def held(self) -> list[bool]:
        return [self.bluez.connected(address) for address in ADDRESSES]

    def read(self) -> bool:
        return self.bluez.subscribed(ADDRESSES[0], MEASUREMENT) and self.bluez.subscribed(
            ADDRESSES[1], OXYGENATION
        )

    async def send_for_ever(self) -> None:
        number = 0
        while True:
            number += 1
            self.bluez.send(ADDRESSES[0], MEASUREMENT, bytes((0x06, 120 + number % 8)))
            self.bluez.send(
                ADDRESSES[1], OXYGENATION, (600 + number % 50).to_bytes(2, "little") + b"\xff\xff"
            )
            await asyncio.sleep(0.05)

    async def live(self, recording: str) -> asyncio.subprocess.Process:
        words = [
            "live", "--no-window", "--strap", ADDRESSES[0], "--oximeter",
            f"left thigh={ADDRESSES[1]}", "--adapter", "invented-plain", "--record",
            str(self._folder / recording),
        ]  # fmt: skip
        kept = {"XDG_DATA_HOME": str(self._folder), "XDG_CONFIG_HOME": str(self._folder)}
        return await asyncio.create_subprocess_exec(
            sys.executable, "-m", "livemon", *words,
            env=os.environ | kept | {"DBUS_SYSTEM_BUS_ADDRESS": self._bus},
            stdout=asyncio.subprocess.DEVNULL, stderr=asyncio.subprocess.DEVNULL,
        )  # fmt: skip

    def events(self, recording: str) -> list[object]:
        found = open_recording(self._folder / recording)
        events: list[object] = list(found.events())
        assert found.problems.bad == 0
        return events

    def written(self, recording: str) -> int:
        """Return how many octets of it are on the disk."""
        path = self._folder / recording
        return path.stat().st_size if path.exists() else 0


@asynccontextmanager
async def gym(folder: Path) -> AsyncIterator[Gym]:
    from livemon.link.fake_bluez.bus import private_bus
    from livemon.link.fake_bluez.description import (
        Adapter,
        Characteristic,
        Peripheral,
        Service,
    )
    from livemon.link.fake_bluez.service import fake_bluez

    def sensor(address: str, name: str, service: str, values: str) -> Peripheral:
        return Peripheral(
            address, name, (Service(service, (Characteristic(values, ("notify",)),)),)
        )

    sensors = (
        sensor(ADDRESSES[0], "STRAP-1", HEART_RATE, MEASUREMENT),
        sensor(ADDRESSES[1], "OXI-1", OXIMETER, OXYGENATION),
    )
    adapter = Adapter(advertising_interval_s=0.1)
    async with private_bus() as bus, fake_bluez(bus, sensors, adapter) as bluez:
        there = Gym(bluez, bus, folder)
        sending = asyncio.create_task(there.send_for_ever())
        yield there
        sending.cancel()


async def until(claim: Callable[[], bool]) -> None:
    async with asyncio.timeout(WITHIN_S):
        while not claim():  # noqa: ASYNC110 - another process is part of it
            await asyncio.sleep(0.02)


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM], ids=["Ctrl-C", "SIGTERM"])
async def test_told_to_end_it_sets_the_sensors_free(tmp_path: Path, number: signal.Signals) -> None:
    async with gym(tmp_path) as there:
        process = await there.live("session.jsonl")
        await until(there.read)
        await until(lambda: there.written("session.jsonl") > 3_000)
        process.send_signal(number)
        async with asyncio.timeout(WITHIN_S):
            assert await process.wait() == 0

        assert there.held() == [False, False]
    events = there.events("session.jsonl")
    assert isinstance(events[-1], End)
    ups = [event.sensor for event in events if isinstance(event, LinkUp)]
    assert sorted(e.sensor for e in events if isinstance(e, LinkDown)) == sorted(ups)
    assert len(set(ups)) == 2


async def test_killed_it_leaves_links_that_the_next_start_adopts(tmp_path: Path) -> None:
    async with gym(tmp_path) as there:
        first = await there.live("killed.jsonl")
        await until(there.read)
        await until(lambda: there.written("killed.jsonl") > 3_000)
        first.kill()
        await first.wait()
        assert there.held() == [True, True]  # so neither advertises any more

        second = await there.live("next.jsonl")
        await until(there.read)
        await until(lambda: there.written("next.jsonl") > 3_000)
        second.send_signal(signal.SIGTERM)
        async with asyncio.timeout(WITHIN_S):
            assert await second.wait() == 0
        assert there.held() == [False, False]
    for recording in ("killed.jsonl", "next.jsonl"):
        sensors = {e.sensor for e in there.events(recording) if isinstance(e, Notification)}
        assert len(sensors) == 2
