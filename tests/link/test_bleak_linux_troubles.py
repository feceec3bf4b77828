"""Drops, refusals and Bluetooth that is off, as bleak's own Linux backend tells them.

Against the make-believe service. Where bleak or BlueZ behave oddly, the test says so: it goes red
when a new version no longer does.
"""

import asyncio
import sys
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
from bleak_linked import Inbox, find, linked
from bluez_fixtures import (
    HEART_RATE,
    MEASUREMENT,
    OXI,
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
