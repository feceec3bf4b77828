"""bleak's own Linux backend, end to end, against the make-believe service: no radio, no patches.

What is checked here is what the product leans on. Where bleak or BlueZ behave oddly, the test
says so: it goes red when a new version no longer does.
"""

import asyncio
from dataclasses import replace

import pytest

pytest.importorskip("dbus_fast", reason="comes with bleak on Linux only")

import bleak
from bleak_linked import Inbox, find, linked
from bluez_fixtures import (
    BATTERY,
    COMMAND,
    HEART_RATE,
    LEVEL,
    MEASUREMENT,
    OXI,
    OXIMETER,
    OXYGENATION,
    STRAP,
)

from livemon.link.fake_bluez.description import Adapter

WAYS = pytest.mark.parametrize(
    "bluez_args",
    [
        pytest.param({"use_start_notify": True}, id="StartNotify"),
        pytest.param({"use_start_notify": False}, id="AcquireNotify"),
    ],
)


async def test_a_scan_by_service_hears_only_sensors_that_advertise_it(bluez) -> None:
    service = await bluez((STRAP, OXI))
    heard = asyncio.Queue()

    async with bleak.BleakScanner(lambda d, a: heard.put_nowait((d, a)), [HEART_RATE]):
        several = [await heard.get() for _ in range(3)]
        assert service.scanning

    device, advert = several[0]
    assert {device.address for device, _ in several} == {STRAP.address}
    assert (device.name, advert.local_name) == ("invented strap", "invented strap")
    assert (advert.rssi, advert.service_uuids) == (-60, [HEART_RATE, BATTERY])
    assert not service.scanning


async def test_the_very_first_advertisement_is_heard(bluez) -> None:
    """There is no second one in this test's life."""
    await bluez((STRAP,), Adapter(advertising_interval_s=3600))

    assert (await find(STRAP)).address == STRAP.address


async def test_a_sensor_that_is_not_there_is_not_found(bluez) -> None:
    await bluez((OXI,))

    assert await bleak.BleakScanner.find_device_by_address(STRAP.address, timeout=0.1) is None


async def test_a_link_lists_every_characteristic_with_its_properties(bluez) -> None:
    await bluez((STRAP, OXI))

    async with linked(OXI) as client:
        services = client.services

        assert [service.uuid for service in services] == [OXIMETER]
        assert services.get_characteristic(OXYGENATION).properties == ["notify"]
        assert services.get_characteristic(COMMAND).properties == ["write"]


async def test_services_that_take_their_time_are_waited_for(bluez) -> None:
    await bluez((replace(STRAP, connect_delay_s=0.02, resolve_delay_s=0.02),))

    async with linked(STRAP) as client:
        assert client.services.get_characteristic(MEASUREMENT) is not None


@WAYS
@pytest.mark.parametrize(
    ("peripheral", "uuid"),
    [pytest.param(STRAP, MEASUREMENT, id="0x2A37"), pytest.param(OXI, OXYGENATION, id="128-bit")],
)
async def test_notifications_arrive_byte_for_byte(bluez, peripheral, uuid, bluez_args) -> None:
    service = await bluez((STRAP, OXI))
    inbox = Inbox()
    sent = [b"\x16\x96\x99\x01", b"\x00", bytes(range(244)), b"\x16\x96\x99\x01", b""]

    async with linked(peripheral, inbox) as client:
        await client.start_notify(uuid, inbox.notified, bluez=bluez_args)
        for payload in sent:
            assert service.send(peripheral.address, uuid, payload)

        assert await inbox.take(len(sent)) == sent


@WAYS
async def test_a_burst_far_larger_than_a_socket_holds_arrives_whole(bluez, bluez_args) -> None:
    """The receiver does not read while it is sent; nothing is lost, nothing overtakes."""
    service = await bluez((STRAP,))
    inbox = Inbox()
    # AcquireNotify's own socket has a bound and loses what is beyond it, as a radio would.
    count = 3000 if bluez_args["use_start_notify"] else 100
    sent = [number.to_bytes(2, "little") for number in range(count)]

    async with linked(STRAP, inbox) as client:
        await client.start_notify(MEASUREMENT, inbox.notified, bluez=bluez_args)
        for payload in sent:
            service.send(STRAP.address, MEASUREMENT, payload)

        assert await inbox.take(count) == sent


@WAYS
async def test_nothing_arrives_after_stop_notify(bluez, bluez_args) -> None:
    service = await bluez((STRAP,))
    inbox = Inbox()

    async with linked(STRAP, inbox) as client:
        await client.start_notify(MEASUREMENT, inbox.notified, bluez=bluez_args)
        await client.stop_notify(MEASUREMENT)
        await service.until(lambda: not service.subscribed(STRAP.address, MEASUREMENT))

        assert not service.send(STRAP.address, MEASUREMENT, b"\x00\x3c")
        await client.read_gatt_char(LEVEL)  # a round trip later
        assert inbox.payloads.empty()


async def test_battery_is_read_afresh_each_time(bluez) -> None:
    service = await bluez((STRAP,))

    async with linked(STRAP) as client:
        assert await client.read_gatt_char(LEVEL) == b"\x55"
        service.set_value(STRAP.address, LEVEL, b"\x54")
        assert await client.read_gatt_char(LEVEL) == b"\x54"

    async with linked(STRAP) as client:
        assert await client.read_gatt_char(LEVEL) == b"\x54"


async def test_reading_a_subscribed_characteristic_also_notifies(bluez) -> None:
    """BlueZ does this under StartNotify: never read what you are subscribed to."""
    await bluez((STRAP,))
    inbox = Inbox()

    async with linked(STRAP, inbox) as client:
        await client.start_notify(LEVEL, inbox.notified)
        await client.read_gatt_char(LEVEL)

        assert await inbox.take(1) == [b"\x55"]


async def test_a_write_reaches_the_sensor(bluez) -> None:
    service = await bluez((OXI,))

    async with linked(OXI) as client:
        await client.write_gatt_char(COMMAND, b"\x01\x02", response=True)

    assert service.writes == ((COMMAND, b"\x01\x02"),)
