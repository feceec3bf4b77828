"""The invented gym as a make-believe BlueZ on a bus of its own: for a second livemon to read."""

import asyncio
import sys
from collections.abc import Callable

from livemon.app.gym import Gym
from livemon.errors import UsageError
from livemon.link.simulated.sensor import SimulatedSensor


async def serve(gym: Gym, say: Callable[[str], None]) -> None:
    """Run the service until cancelled; say how to reach it.

    Raises:
        UsageError: this system has no BlueZ.
        RadioError: dbus-daemon is missing.
    """
    if not sys.platform.startswith("linux"):
        raise UsageError("--bluez pretends to be Linux's Bluetooth service; it needs Linux.")
    # dbus-fast comes with bleak on Linux only, hence not at the top.
    from livemon.link.fake_bluez.bus import private_bus
    from livemon.link.fake_bluez.description import Characteristic, Peripheral, Service
    from livemon.link.fake_bluez.service import FakeBluez, fake_bluez

    peripherals = [
        Peripheral(
            sensor.address,
            sensor.name or "",
            tuple(
                Service(service, tuple(Characteristic(uuid, ("notify",)) for uuid in uuids))
                for service, uuids in sensor.services.items()
            ),
        )
        for _, sensor in gym.sensors
    ]

    async def send(bluez: FakeBluez, sensor: SimulatedSensor, start_s: float) -> None:
        for packet in sensor.packets:
            await asyncio.sleep(start_s + packet.t_s - asyncio.get_running_loop().time())
            bluez.send(sensor.address, packet.characteristic, packet.payload)

    async with private_bus() as address, fake_bluez(address, peripherals) as bluez:
        say("A make-believe Bluetooth is running. In another terminal:")
        say(f"  export DBUS_SYSTEM_BUS_ADDRESS={address}")
        say("  livemon scan")
        for name, sensor in gym.sensors:
            say(f"  {name}: {sensor.address}")
        start_s = asyncio.get_running_loop().time()
        await asyncio.gather(*(send(bluez, sensor, start_s) for _, sensor in gym.sensors))
