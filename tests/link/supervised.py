"""The product's own supervision over bleak's real Linux backend, and a witness of its events."""

import asyncio
import struct
import time
from collections.abc import AsyncIterator, Callable, Iterable
from contextlib import asynccontextmanager
from importlib import resources
from random import Random

import pytest

pytest.importorskip("dbus_fast", reason="comes with bleak on Linux only")

from bluez_fixtures import HEART_RATE, LEVEL

from livemon.decode.adapter import parse_adapter
from livemon.events import Event, LinkDown, LinkUp, Notification
from livemon.link.bleak_radio import BleakRadio
from livemon.link.fake_bluez.description import Characteristic, Peripheral, Service
from livemon.link.identity import HostAddress, Remembered
from livemon.link.plan import Plan, adapter_plan, heart_rate_plan
from livemon.link.supervision import Supervision

HOST = "this computer"
DEMO_TEXT = resources.files("livemon.adapters").joinpath("invented-demo.toml").read_text("utf-8")
DEMO = parse_adapter(DEMO_TEXT, where="invented-demo.toml")
OXI = Peripheral(
    "D0:00:00:00:00:01",
    "invented oximeter",
    (Service(DEMO.service, (Characteristic(DEMO.characteristic, ("notify",)),)),),
)


def beat(bpm: int) -> bytes:
    """Heart Rate Measurement: 8-bit value, contact detected (flags 0x06)."""
    return bytes((0x06, bpm))


def oxygen(number: int, tenths: int = 613) -> bytes:
    """A packet of the demo adapter: SmO2 in 0.1 %, tHb not known, counter, contact."""
    return struct.pack("<HHBB", tenths, 0xFFFF, number % 256, 1)


class Witness:
    """Takes the events and lets a test wait for what it wants to see in them."""

    def __init__(self) -> None:
        self.events: list[Event] = []
        self._more = asyncio.Event()

    def emit(self, event: Event) -> None:
        self.events.append(event)
        self._more.set()

    async def until(self, claim: Callable[[], bool]) -> None:
        while not claim():
            self._more.clear()
            await self._more.wait()

    def notified(self) -> list[Notification]:
        return [event for event in self.events if isinstance(event, Notification)]

    def payloads(self, sensor: str) -> list[bytes]:
        """Return what the sensor's own channel brought; no battery."""
        return [
            event.payload
            for event in self.notified()
            if event.sensor == sensor and event.characteristic != LEVEL
        ]

    def links(self, sensor: str) -> list[type[Event]]:
        return [
            type(event)
            for event in self.events
            if isinstance(event, LinkUp | LinkDown) and event.sensor == sensor
        ]


def plan_for(peripheral: Peripheral) -> Plan:
    if peripheral.services[0].uuid == HEART_RATE:
        return heart_rate_plan(peripheral.address)
    return adapter_plan(peripheral.address, DEMO.connection)


@asynccontextmanager
async def supervised(
    peripherals: Iterable[Peripheral],
    witness: Witness,
    plan: Callable[[Peripheral], Plan] = plan_for,
) -> AsyncIterator[Supervision]:
    """Sensors go by their address here."""
    registry = tuple(
        Remembered(p.address, p.name, p.name, addresses=(HostAddress(HOST, p.address),))
        for p in peripherals
    )
    supervision = Supervision(
        BleakRadio(time.monotonic_ns, system="Linux", announce=lambda _: None),
        witness.emit,
        registry,
        HOST,
        now_ns=time.monotonic_ns,
        chance=Random(1),
        services=frozenset({HEART_RATE, DEMO.service}),
    )
    supervision.start()
    for peripheral in peripherals:
        supervision.keep(plan(peripheral))
    try:
        yield supervision
    finally:
        await supervision.stop()


async def subscribed(service, *peripherals: Peripheral) -> None:
    """Wait until the supervision reads all of them."""
    wanted = [(p.address, plan_for(p).channels[0].characteristic) for p in peripherals]
    await service.until(lambda: all(service.subscribed(*each) for each in wanted))
