"""The simulated radio seen through the real bleak, without anything of ours between."""

import asyncio
from collections.abc import Iterator

import bleak
import numpy as np
import pytest
from bleak.exc import BleakCharacteristicNotFoundError, BleakDBusError, BleakError
from bumble.profiles.heart_rate_service import HeartRateService
from link_gym import strap

from livemon.decode.adapter import parse_adapter
from livemon.decode.battery import BATTERY_LEVEL
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.decode.shipped import shipped_adapters
from livemon.link.plan import HEART_RATE_SERVICE
from livemon.link.simulated.air import Air
from livemon.link.simulated.backends import backends
from livemon.link.simulated.devices import invented_oximeter, invented_strap
from livemon.link.simulated.sensor import Packet, SimulatedSensor
from livemon.link.simulated.virtual_loop import run_virtually
from livemon.synthetic.sessions import IN_BALANCE
from livemon.synthetic.training import ADAPTER, packets_of


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


def sent_by_the_strap_of_the_training() -> Iterator[Packet]:
    for one in packets_of(IN_BALANCE, np.random.default_rng(1)):
        if one.characteristic == HEART_RATE_MEASUREMENT:
            yield Packet(one.t_s, one.characteristic, one.payload)


def test_an_invented_strap_sends_heart_rates_that_bumble_reads_too() -> None:
    """Google's Bumble decodes what goes out on the air."""

    async def main() -> list[bytes]:
        air, heard = Air(), []
        sensor = invented_strap("C0:00:00:00:00:01", "x", sent_by_the_strap_of_the_training())
        air.add(sensor)
        device = await found(air, sensor)
        async with bleak.BleakClient(device, backend=backends(air).client) as client:
            await client.start_notify(HEART_RATE_MEASUREMENT, lambda _, data: heard.append(data))
            await asyncio.sleep(600)
        air.close()
        return heard

    heard = run_virtually(main())

    assert len(heard) > 550
    for payload in heard:
        measured = HeartRateService.HeartRateMeasurement.from_bytes(bytes(payload))
        assert 40 <= measured.heart_rate <= 220


def test_invented_sensors_say_when_they_lie_on_no_skin() -> None:
    adapter = parse_adapter(shipped_adapters()[ADAPTER], where=ADAPTER)
    oximeter = invented_oximeter("D0:00:00:00:00:01", "x", iter(()), adapter)
    strap_ = invented_strap("C0:00:00:00:00:01", "x", iter(()))
    worn = adapter.encode({"smo2": 61.3, "thb": 12.0, "sequence": 77.0, "contact": 1.0})

    off = oximeter.off_skin(adapter.characteristic, worn)

    assert (worn[5] & 1, off[5] & 1) == (1, 0)
    assert off[0:2] == b"\xff\xff"  # no reading
    assert off[4] == 77  # the packet counter goes on
    assert strap_.off_skin(HEART_RATE_MEASUREMENT, b"\x06\x50") == b"\x04\x00"
