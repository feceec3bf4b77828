"""The make-believe Bluetooth service by itself, asked over D-Bus as any program would ask it.

Answers are compared with BlueZ's documentation (doc/org.bluez.*.rst) and its src/gatt-client.c.
"""

import asyncio
import os
from collections.abc import AsyncIterator
from dataclasses import replace
from typing import Any

import pytest

pytest.importorskip("dbus_fast", reason="comes with bleak on Linux only")

from bluez_fixtures import HEART_RATE, LEVEL, MEASUREMENT, OXI, STRAP
from dbus_fast import Message, MessageType, Variant
from dbus_fast.aio import MessageBus

ADAPTER = "/org/bluez/hci0"
DEVICE = f"{ADAPTER}/dev_C0_00_00_00_00_01"
MEASURED = f"{DEVICE}/service0001/char0002"
CHARGE = f"{DEVICE}/service0005/char0006"


class Client:
    """Somebody on the bus."""

    def __init__(self, bus: MessageBus) -> None:
        self._bus = bus

    async def ask(self, path: str, method: str, signature: str = "", *body: Any) -> Any:
        """Return the answer's body, or the error's name."""
        reply = await self.reply(path, method, signature, *body)
        return reply.error_name if reply.message_type is MessageType.ERROR else reply.body

    async def reply(self, path: str, method: str, signature: str, *body: Any) -> Message:
        interface, _, member = method.rpartition(".")
        return await self._bus.call(
            Message("org.bluez", path, interface, member, signature=signature, body=list(body))
        )

    async def leave(self) -> None:
        self._bus.disconnect()
        await self._bus.wait_for_disconnect()


@pytest.fixture
async def client(bluez_bus: str) -> AsyncIterator[Client]:
    client = Client(await MessageBus(bluez_bus, negotiate_unix_fd=True).connect())
    yield client
    await client.leave()


async def connect(service, client: Client) -> None:
    """Find the strap and open its link."""
    await client.ask(ADAPTER, "org.bluez.Adapter1.StartDiscovery")
    await service.until(lambda: service.known(STRAP.address))
    await client.ask(ADAPTER, "org.bluez.Adapter1.StopDiscovery")
    assert await client.ask(DEVICE, "org.bluez.Device1.Connect") == []
    await service.until(lambda: service.resolved(STRAP.address))


async def test_objects_are_listed_from_the_root_with_typed_properties(bluez, client) -> None:
    service = await bluez((STRAP,))
    await connect(service, client)

    (objects,) = await client.ask("/", "org.freedesktop.DBus.ObjectManager.GetManagedObjects")

    assert objects[ADAPTER]["org.bluez.Adapter1"]["Roles"] == Variant("as", ["central"])
    assert objects[DEVICE]["org.bluez.Device1"]["Connected"] == Variant("b", True)
    measured = objects[MEASURED]["org.bluez.GattCharacteristic1"]
    assert measured["UUID"] == Variant("s", MEASUREMENT)
    assert measured["Service"] == Variant("o", f"{DEVICE}/service0001")
    assert f"{MEASURED}/desc0004" in objects


async def test_properties_are_read_one_by_one_or_together(bluez, client) -> None:
    await bluez(())

    one = await client.ask(
        ADAPTER, "org.freedesktop.DBus.Properties.Get", "ss", "org.bluez.Adapter1", "Powered"
    )
    (every,) = await client.ask(
        ADAPTER, "org.freedesktop.DBus.Properties.GetAll", "s", "org.bluez.Adapter1"
    )

    assert one == [Variant("b", True)] == [every["Powered"]]


async def test_a_client_may_switch_bluetooth_off(bluez, client) -> None:
    service = await bluez((STRAP,))
    await connect(service, client)

    await client.ask(
        ADAPTER,
        "org.freedesktop.DBus.Properties.Set",
        "ssv",
        "org.bluez.Adapter1",
        "Powered",
        Variant("b", False),
    )

    assert not service.connected(STRAP.address)
    refused = await client.ask(ADAPTER, "org.bluez.Adapter1.StartDiscovery")
    assert refused == "org.bluez.Error.NotReady"
    assert await client.ask(DEVICE, "org.bluez.Device1.Connect") == "org.bluez.Error.NotReady"


@pytest.mark.parametrize(
    ("path", "method", "answer"),
    [
        pytest.param(
            f"{ADAPTER}/dev_00",
            "org.bluez.Device1.Connect",
            "org.freedesktop.DBus.Error.UnknownObject",
            id="no such object",
        ),
        pytest.param(
            ADAPTER,
            "org.bluez.Device1.Connect",
            "org.freedesktop.DBus.Error.UnknownObject",
            id="no such interface there",
        ),
        pytest.param(
            f"{ADAPTER}/dev_00/service0001/char0002",
            "org.bluez.GattCharacteristic1.StopNotify",
            "org.freedesktop.DBus.Error.UnknownObject",
            id="no such characteristic",
        ),
        pytest.param(
            ADAPTER,
            "org.bluez.Adapter1.Dance",
            "org.freedesktop.DBus.Error.UnknownMethod",
            id="no such method",
        ),
        pytest.param(
            ADAPTER,
            "org.bluez.Adapter1.StopDiscovery",
            "org.bluez.Error.Failed",
            id="stopping a scan that was not started",
        ),
    ],
)
async def test_calls_out_of_place_are_refused(bluez, client, path, method, answer) -> None:
    await bluez(())

    assert await client.ask(path, method) == answer


async def test_a_client_scans_once_at_a_time(bluez, client) -> None:
    await bluez(())
    start = "org.bluez.Adapter1.StartDiscovery"

    assert await client.ask(ADAPTER, start) == []
    assert await client.ask(ADAPTER, start) == "org.bluez.Error.InProgress"


async def test_a_scan_ends_when_its_client_leaves_the_bus(bluez, client) -> None:
    service = await bluez(())
    await client.ask(ADAPTER, "org.bluez.Adapter1.StartDiscovery")
    assert service.scanning

    await client.leave()

    await service.until(lambda: not service.scanning)


async def test_signal_strength_is_forgotten_with_the_scan(bluez, client) -> None:
    service = await bluez((STRAP,))
    await connect(service, client)

    (known,) = await client.ask(
        DEVICE, "org.freedesktop.DBus.Properties.GetAll", "s", "org.bluez.Device1"
    )

    assert "RSSI" not in known


async def test_a_filter_hides_sensors_without_its_service(bluez, client) -> None:
    hidden = replace(OXI, advertises=())
    service = await bluez((hidden, STRAP))
    wanted = {"UUIDs": Variant("as", [HEART_RATE])}

    await client.ask(ADAPTER, "org.bluez.Adapter1.SetDiscoveryFilter", "a{sv}", wanted)
    await client.ask(ADAPTER, "org.bluez.Adapter1.StartDiscovery")
    await service.until(lambda: service.known(STRAP.address))

    assert not service.known(OXI.address)


async def test_subscribing_twice_or_in_two_ways_is_refused(bluez, client) -> None:
    service = await bluez((STRAP,))
    await connect(service, client)
    start = "org.bluez.GattCharacteristic1.StartNotify"
    acquire = "org.bluez.GattCharacteristic1.AcquireNotify"

    assert await client.ask(MEASURED, start) == []
    assert await client.ask(MEASURED, start) == "org.bluez.Error.Failed"
    assert await client.ask(MEASURED, acquire, "a{sv}", {}) == "org.bluez.Error.InProgress"
    acquired = await client.reply(CHARGE, acquire, "a{sv}", {})
    assert acquired.body == [0, 247]  # the first of the descriptors that came along, and the MTU
    assert await client.ask(CHARGE, start) == "org.bluez.Error.NotPermitted"
    os.close(acquired.unix_fds[0])
    await service.until(lambda: not service.subscribed(STRAP.address, LEVEL))
    assert await client.ask(CHARGE, start) == []


async def test_a_subscription_ends_with_its_link(bluez, client) -> None:
    service = await bluez((STRAP,))
    start = "org.bluez.GattCharacteristic1.StartNotify"
    for _ in range(2):
        await connect(service, client)
        assert not service.subscribed(STRAP.address, MEASUREMENT)
        assert await client.ask(MEASURED, start) == []
        service.drop(STRAP.address)


async def test_values_longer_than_a_socket_holds_keep_their_order(bluez, client) -> None:
    """No sensor sends as much; an answer that lists hundreds of devices is as long."""
    service = await bluez((STRAP,))
    await connect(service, client)
    service.set_value(STRAP.address, LEVEL, bytes(1_000_000))
    read = "org.bluez.GattCharacteristic1.ReadValue"

    answers = await asyncio.gather(*(client.ask(CHARGE, read, "a{sv}", {}) for _ in range(5)))

    assert [len(value) for (value,) in answers] == [1_000_000] * 5


async def test_what_a_characteristic_does_not_offer_is_refused(bluez, client) -> None:
    service = await bluez((STRAP,))
    await connect(service, client)
    read = await client.ask(MEASURED, "org.bluez.GattCharacteristic1.ReadValue", "a{sv}", {})
    write = await client.ask(
        MEASURED, "org.bluez.GattCharacteristic1.WriteValue", "aya{sv}", b"\x01", {}
    )

    assert read == "org.bluez.Error.NotPermitted"
    assert write == "org.bluez.Error.NotSupported"


async def test_services_are_gone_with_the_link(bluez, client) -> None:
    service = await bluez((STRAP,))
    await connect(service, client)
    service.drop(STRAP.address)

    (objects,) = await client.ask("/", "org.freedesktop.DBus.ObjectManager.GetManagedObjects")

    assert set(objects) == {ADAPTER, DEVICE}
    assert objects[DEVICE]["org.bluez.Device1"]["ServicesResolved"] == Variant("b", False)


async def test_disconnecting_ends_an_attempt(bluez, client) -> None:
    service = await bluez((STRAP,))
    await connect(service, client)
    service.go_quiet(STRAP.address)

    attempt, _ = await asyncio.gather(
        client.ask(DEVICE, "org.bluez.Device1.Connect"),
        client.ask(DEVICE, "org.bluez.Device1.Disconnect"),
    )

    assert attempt == "org.bluez.Error.Failed"
    assert not service.connecting
