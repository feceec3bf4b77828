"""The simulated radio seen through the real bleak, without anything of ours between."""

import asyncio

import bleak
import pytest
from bleak.exc import BleakCharacteristicNotFoundError, BleakDBusError, BleakError
from bumble.profiles.heart_rate_service import HeartRateService
from link_gym import strap

from livemon.decode.battery import BATTERY_LEVEL
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.link.plan import HEART_RATE_SERVICE
from livemon.link.simulated.air import Air
from livemon.link.simulated.backends import backends
from livemon.link.simulated.cast import cast
from livemon.link.simulated.sensor import SimulatedSensor
from livemon.link.simulated.virtual_loop import run_virtually


async def found(air: Air, sensor: SimulatedSensor) -> bleak.BLEDevice:
    device = await bleak.BleakScanner.find_device_by_address(
        sensor.address, backend=backends(air).scanner
    )
    assert device is not None
    return device


def test_scan_link_read_and_notify() -> None:
    async def main() -> None:
        air, sensor = Air(), strap(1)
        air.add(sensor)
        heard: list[bytes] = []
        device = await found(air, sensor)
        assert device.name == "Strap 1"
        async with bleak.BleakClient(device, backend=backends(air).client) as client:
            assert client.is_connected
            assert await client.read_gatt_char(BATTERY_LEVEL) == b"\x55"
            await client.start_notify(HEART_RATE_MEASUREMENT, lambda _, data: heard.append(data))
            await asyncio.sleep(5.5)
            await client.stop_notify(HEART_RATE_MEASUREMENT)
            await asyncio.sleep(5)
        assert len(heard) in {5, 6}
        assert air.links == 0
        air.close()

    run_virtually(main())


def test_a_scan_can_be_filtered_by_service() -> None:
    async def main() -> None:
        air = Air()
        air.add(strap(1))
        scanner = backends(air).scanner
        wanted = await bleak.BleakScanner.discover(
            3, service_uuids=[HEART_RATE_SERVICE], backend=scanner
        )
        other = await bleak.BleakScanner.discover(3, service_uuids=["180f"], backend=scanner)
        assert [device.name for device in wanted] == ["Strap 1"]
        assert other == []
        air.close()

    run_virtually(main())


def test_a_drop_is_told_and_the_next_link_is_a_new_one() -> None:
    async def main() -> None:
        air, sensor, told = Air(), strap(1), []
        air.add(sensor)
        device = await found(air, sensor)
        client = bleak.BleakClient(device, told.append, backend=backends(air).client)
        await client.connect()
        air.drop(sensor)
        assert told == [client]
        assert not client.is_connected
        with pytest.raises(BleakError, match="Not connected"):
            await client.start_notify(HEART_RATE_MEASUREMENT, lambda *_: None)
        await client.connect()
        assert client.is_connected
        await client.disconnect()
        air.close()

    run_virtually(main())


def test_opening_during_a_scan_gives_in_progress() -> None:
    """As BlueZ does; the radio above must avoid it."""

    async def main() -> None:
        air, sensor = Air(), strap(1)
        air.add(sensor)
        device = await found(air, sensor)
        async with bleak.BleakScanner(backend=backends(air).scanner):
            client = bleak.BleakClient(device, backend=backends(air).client)
            with pytest.raises(BleakDBusError, match="InProgress"):
                await client.connect()
        assert air.overlaps == 1
        air.close()

    run_virtually(main())


def test_a_characteristic_that_is_not_there_has_bleaks_own_error() -> None:
    async def main() -> None:
        air, sensor = Air(), strap(1)
        air.add(sensor)
        device = await found(air, sensor)
        async with bleak.BleakClient(device, backend=backends(air).client) as client:
            with pytest.raises(BleakCharacteristicNotFoundError):
                await client.read_gatt_char("2a00")
        air.close()

    run_virtually(main())


def test_the_cast_sends_heart_rates_that_bumble_reads_too() -> None:
    """Google's Bumble decodes what an invented strap of the gym puts on the air."""
    strap_of_one = cast(athletes=1, seed=1).devices["a1-strap"]

    for _, packet in zip(range(600), strap_of_one.packets, strict=False):
        measured = HeartRateService.HeartRateMeasurement.from_bytes(packet.payload)
        assert 40 <= measured.heart_rate <= 220


def test_the_same_seed_gives_the_same_bytes_and_another_gives_others() -> None:
    def first(seed: int) -> dict[str, list[bytes]]:
        return {
            sensor: [packet.payload for _, packet in zip(range(50), one.packets, strict=False)]
            for sensor, one in cast(athletes=1, seed=seed).devices.items()
        }

    once = first(1)

    assert first(1) == once
    assert first(2) != once


def test_sensors_of_the_cast_say_when_they_lie_on_no_skin() -> None:
    one = cast(athletes=1, seed=1)
    adapter_uuid = one.plans[1].channels[0].characteristic
    worn = next(one.devices["a1-thigh"].packets)
    off = one.devices["a1-thigh"].off_skin(adapter_uuid, worn.payload)

    assert worn.payload[5] & 1
    assert not off[5] & 1
    assert off[0:2] == b"\xff\xff"
    assert off[4] == worn.payload[4]  # the packet counter goes on
    assert one.devices["a1-strap"].off_skin(HEART_RATE_MEASUREMENT, b"\x06\x50") == b"\x04\x00"
