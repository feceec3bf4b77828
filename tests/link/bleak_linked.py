"""A link through bleak's own Linux backend, and what arrived on it."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

import pytest

pytest.importorskip("dbus_fast", reason="comes with bleak on Linux only")

import bleak

from livemon.link.fake_bluez.description import Peripheral


class Inbox:
    """What arrived on one link."""

    def __init__(self) -> None:
        self.payloads: asyncio.Queue[bytes] = asyncio.Queue()
        self.gone = asyncio.Event()

    def notified(self, _: object, data: bytearray) -> None:
        self.payloads.put_nowait(bytes(data))

    def disconnected(self, _: object) -> None:
        self.gone.set()

    async def take(self, count: int) -> list[bytes]:
        return [await self.payloads.get() for _ in range(count)]


async def find(peripheral: Peripheral) -> bleak.BLEDevice:
    found = await bleak.BleakScanner.find_device_by_filter(
        lambda device, _: device.address == peripheral.address
    )
    assert found is not None
    return found


@asynccontextmanager
async def linked(
    peripheral: Peripheral, inbox: Inbox | None = None
) -> AsyncIterator[bleak.BleakClient]:
    client = bleak.BleakClient(await find(peripheral), (inbox or Inbox()).disconnected)
    try:
        await client.connect()
        yield client
    finally:
        await client.disconnect()
