"""bleak's own Linux backend, end to end, against the make-believe service: no radio, no patches.

What is checked here is what the product leans on. Where bleak or BlueZ behave oddly, the test
says so: it goes red when a new version no longer does.
"""

import asyncio
import sys
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import replace

import pytest

pytest.importorskip("dbus_fast", reason="comes with bleak on Linux only")

import bleak
from bleak.exc import (
    BleakBluetoothNotAvailableError,
    BleakBluetoothNotAvailableReason,
    BleakDBusError,
    BleakDeviceNotFoundError,
    BleakError,
)
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

from livemon.link.fake_bluez.description import Adapter, Peripheral

WAYS = pytest.mark.parametrize(
    "bluez_args",
    [
        pytest.param({"use_start_notify": True}, id="StartNotify"),
        pytest.param({"use_start_notify": False}, id="AcquireNotify"),
    ],
)


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


@WAYS
async def test_after_a_drop_a_new_client_gets_notifications_again_and_once_each(
    bluez, bluez_args
) -> None:
    service = await bluez((STRAP,))
    for round_ in range(3):
        inbox = Inbox()
        async with linked(STRAP, inbox) as client:
            await client.start_notify(MEASUREMENT, inbox.notified, bluez=bluez_args)
            sent = [bytes((0, 60 + round_)), b"\x00\x01"]
            for payload in sent:
                service.send(STRAP.address, MEASUREMENT, payload)
            assert await inbox.take(2) == sent

            service.drop(STRAP.address)
            await inbox.gone.wait()
            assert not client.is_connected
            assert not service.send(STRAP.address, MEASUREMENT, b"\x00\x3c")
            assert inbox.payloads.empty()


async def test_a_drop_leaves_other_links_alone(bluez) -> None:
    service = await bluez((STRAP, OXI))
    strap, oxi = Inbox(), Inbox()

    async with linked(STRAP, strap), linked(OXI, oxi) as client:
        await client.start_notify(OXYGENATION, oxi.notified)
        service.drop(STRAP.address)
        service.send(OXI.address, OXYGENATION, b"\x3d")
        await strap.gone.wait()

        assert await oxi.take(1) == [b"\x3d"]
        assert client.is_connected


async def test_sixty_sensors_drop_at_once_and_come_back(bluez) -> None:
    crowd = [replace(STRAP, address=f"C0:00:00:00:01:{number:02X}") for number in range(60)]
    service = await bluez(crowd)
    inboxes = {peripheral.address: Inbox() for peripheral in crowd}

    for _ in range(2):
        clients = []
        async with bleak.BleakScanner() as scanner:
            async for _ in scanner.advertisement_data():
                if len(scanner.discovered_devices) == len(crowd):
                    break
        for device in scanner.discovered_devices:
            inboxes[device.address].gone.clear()
            client = bleak.BleakClient(device, inboxes[device.address].disconnected)
            await client.connect()
            clients.append(client)
        for peripheral in crowd:
            service.drop(peripheral.address)
        await asyncio.gather(*(inbox.gone.wait() for inbox in inboxes.values()))
        for client in clients:
            await client.disconnect()


async def test_a_refused_connection_can_be_tried_again(bluez) -> None:
    service = await bluez((STRAP,))
    service.fail_connect(STRAP.address)
    client = bleak.BleakClient(await find(STRAP))

    with pytest.raises(BleakDBusError, match="le-connection-refused"):
        await client.connect()
    assert not service.connected(STRAP.address)
    await client.connect()
    assert service.connected(STRAP.address)
    await client.disconnect()


async def test_connecting_to_a_sensor_out_of_reach_ends_at_our_own_time(bluez) -> None:
    service = await bluez((STRAP,))
    client = bleak.BleakClient(await find(STRAP), timeout=0.1)
    service.go_quiet(STRAP.address)

    with pytest.raises(TimeoutError):
        await client.connect()

    service.appear(STRAP.address)
    await client.connect()  # the attempt that was given up does not stand in the way
    await client.disconnect()


async def test_a_device_that_the_system_forgot_must_be_found_again(bluez) -> None:
    service = await bluez((STRAP,))
    stale = await find(STRAP)
    service.vanish(STRAP.address)
    service.appear(STRAP.address)

    with pytest.raises(BleakError, match="not found"):
        await bleak.BleakClient(stale).connect()
    async with linked(STRAP) as client:
        assert client.is_connected


async def test_a_sensor_that_vanishes_ends_its_link(bluez) -> None:
    service = await bluez((STRAP,))
    inbox = Inbox()

    async with linked(STRAP, inbox) as client:
        service.vanish(STRAP.address)
        await inbox.gone.wait()

        assert not client.is_connected


async def test_connecting_during_a_scan_or_another_attempt_is_refused(bluez) -> None:
    service = await bluez((replace(STRAP, connect_delay_s=0.05), OXI))
    strap, oxi = await find(STRAP), await find(OXI)

    async with bleak.BleakScanner():
        with pytest.raises(BleakDBusError, match="InProgress"):
            await bleak.BleakClient(oxi).connect()
    first = bleak.BleakClient(strap)
    attempt = asyncio.create_task(first.connect())
    await service.until(lambda: service.connecting)
    with pytest.raises(BleakDBusError, match="InProgress"):
        await bleak.BleakClient(oxi).connect()
    with pytest.raises(BleakDBusError, match="InProgress"):
        await bleak.BleakScanner().start()
    await attempt
    await first.disconnect()

    assert service.overlaps == 3


async def test_a_full_adapter_hides_further_sensors_and_keeps_its_links(bluez) -> None:
    adapter = Adapter(max_links=1, advertising_interval_s=0.02)
    service = await bluez((STRAP, OXI), adapter)
    oxi = await find(OXI)
    inbox = Inbox()

    async with linked(STRAP, inbox) as client:
        with pytest.raises(BleakDeviceNotFoundError):
            await bleak.BleakClient(oxi).connect()
        assert not service.known(OXI.address)
        assert await bleak.BleakScanner.find_device_by_address(OXI.address, timeout=0.1) is None

        await client.start_notify(MEASUREMENT, inbox.notified)
        service.send(STRAP.address, MEASUREMENT, b"\x00\x3c")
        assert await inbox.take(1) == [b"\x00\x3c"]

    async with linked(OXI) as client:
        assert client.is_connected


async def test_bluetooth_that_is_off_is_told_apart(bluez) -> None:
    service = await bluez((STRAP,))
    service.power_off()

    with pytest.raises(BleakBluetoothNotAvailableError) as caught:
        await bleak.BleakScanner().start()
    assert caught.value.reason is BleakBluetoothNotAvailableReason.POWERED_OFF


async def test_bluetooth_that_is_off_sounds_different_if_the_adapter_is_named(bluez) -> None:
    """Bleak then leaves the check to BlueZ."""
    service = await bluez((STRAP,))
    scanner = bleak.BleakScanner(bluez={"adapter": "hci0"})
    service.power_off()

    with pytest.raises(BleakDBusError) as caught:
        await scanner.start()
    assert caught.value.dbus_error == "org.bluez.Error.NotReady"

    service.power_on()
    async with scanner:
        assert service.scanning


async def test_switching_bluetooth_off_ends_links_and_scans(bluez) -> None:
    service = await bluez((STRAP, OXI))
    inbox = Inbox()

    async with linked(STRAP, inbox) as client, bleak.BleakScanner():
        service.power_off()
        await inbox.gone.wait()

        assert not client.is_connected
        assert not service.scanning


async def test_a_bus_without_bluetooth_service_says_so(bluez_bus) -> None:
    with pytest.raises(BleakDBusError) as caught:
        await bleak.BleakScanner().start()

    assert caught.value.dbus_error == "org.freedesktop.DBus.Error.ServiceUnknown"


async def test_no_bus_at_all_is_a_missing_file(monkeypatch, tmp_path) -> None:
    monkeypatch.setenv("DBUS_SYSTEM_BUS_ADDRESS", f"unix:path={tmp_path / 'none'}")

    with pytest.raises(FileNotFoundError):
        await bleak.BleakScanner().start()


KILLED_WHILE_LINKED = """
import asyncio, os, signal, sys
import bleak

async def main():
    device = await bleak.BleakScanner.find_device_by_address(sys.argv[1])
    client = bleak.BleakClient(device)
    await client.connect()
    await client.start_notify(sys.argv[2], lambda *_: None)
    os.kill(os.getpid(), signal.SIGKILL)

asyncio.run(main())
"""


async def test_a_link_left_behind_by_a_killed_program_can_be_adopted(bluez) -> None:
    """BlueZ keeps the link, so the sensor no longer advertises; only asking for it helps."""
    service = await bluez((STRAP,))
    process = await asyncio.create_subprocess_exec(
        sys.executable, "-c", KILLED_WHILE_LINKED, STRAP.address, MEASUREMENT
    )
    await process.wait()
    await service.until(lambda: not service.subscribed(STRAP.address, MEASUREMENT))
    assert service.connected(STRAP.address)

    adapter = await bleak.BleakAdapter.get()
    (orphan,) = await adapter.get_connected_devices([HEART_RATE])
    inbox = Inbox()
    async with bleak.BleakClient(orphan) as client:
        await client.start_notify(MEASUREMENT, inbox.notified)
        service.send(STRAP.address, MEASUREMENT, b"\x00\x3c")

        assert await inbox.take(1) == [b"\x00\x3c"]
    assert not service.connected(STRAP.address)
