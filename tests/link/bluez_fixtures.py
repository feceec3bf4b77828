"""Make-believe sensors and Bluetooth for tests of the Linux backend.

Imports that other systems lack stand inside the functions, so that collecting does no harm there.
"""

import asyncio
import shutil
import sys
from collections.abc import AsyncIterator, Callable, Iterable
from contextlib import AsyncExitStack

import pytest

from livemon.link.fake_bluez.description import Adapter, Characteristic, Peripheral, Service

HEART_RATE = "0000180d-0000-1000-8000-00805f9b34fb"
MEASUREMENT = "00002a37-0000-1000-8000-00805f9b34fb"
BATTERY = "0000180f-0000-1000-8000-00805f9b34fb"
LEVEL = "00002a19-0000-1000-8000-00805f9b34fb"
# 128-bit UUIDs of an invented oximeter.
OXIMETER = "7a1c0001-51d5-4a3e-9f64-0e6c2a90b3d1"
OXYGENATION = "7a1c0002-51d5-4a3e-9f64-0e6c2a90b3d1"
COMMAND = "7a1c0003-51d5-4a3e-9f64-0e6c2a90b3d1"

STRAP = Peripheral(
    "C0:00:00:00:00:01",
    "invented strap",
    (
        Service(HEART_RATE, (Characteristic(MEASUREMENT, ("notify",)),)),
        Service(BATTERY, (Characteristic(LEVEL, ("read", "notify"), b"\x55"),)),
    ),
)
OXI = Peripheral(
    "C0:00:00:00:00:02",
    "invented oximeter",
    (
        Service(
            OXIMETER,
            (Characteristic(OXYGENATION, ("notify",)), Characteristic(COMMAND, ("write",))),
        ),
    ),
)

#: Whoever waits this long waits for ever; the slowest test takes half a second.
_HANG_S = 20.0


@pytest.fixture
async def bluez_bus(monkeypatch: pytest.MonkeyPatch) -> AsyncIterator[str]:
    """A bus of this test's own that bleak takes for the system's; nobody is on it yet."""
    if not sys.platform.startswith("linux"):
        pytest.skip("BlueZ is Linux's Bluetooth service")
    if shutil.which("dbus-daemon") is None:
        pytest.skip("dbus-daemon is missing; install the package dbus-daemon")
    from livemon.link.fake_bluez.bus import private_bus

    async with private_bus() as address:
        monkeypatch.setenv("DBUS_SYSTEM_BUS_ADDRESS", address)
        hang = asyncio.get_running_loop().call_later(_HANG_S, cancel_everything)
        yield address
        hang.cancel()
        await close_bleak()


@pytest.fixture
async def bluez(bluez_bus: str) -> AsyncIterator[Callable]:
    """A function that starts the service on the test's bus and returns it."""
    from livemon.link.fake_bluez.service import FakeBluez, fake_bluez

    async with AsyncExitStack() as stack:

        async def start(
            peripherals: Iterable[Peripheral], adapter: Adapter | None = None
        ) -> FakeBluez:
            adapter = adapter or Adapter(advertising_interval_s=0.02)
            return await stack.enter_async_context(fake_bluez(bluez_bus, peripherals, adapter))

        yield start


def cancel_everything() -> None:
    for task in asyncio.all_tasks():
        task.cancel("nothing happened any more")


async def close_bleak() -> None:
    """Close the connection that bleak keeps for the life of the loop.

    Programs leave it to the end of the process; here the loop ends before, with warnings as errors.
    """
    from bleak.backends.bluezdbus import manager

    kept = manager._global_instances.pop(asyncio.get_running_loop(), None)
    if kept is None or kept._bus is None:
        return
    kept._bus.disconnect()
    if kept._bus_watcher_task is not None:
        await asyncio.wait({kept._bus_watcher_task})
