"""The service itself: what a test or a simulation does to the make-believe sensors."""

import asyncio
from collections.abc import AsyncIterator, Callable, Iterable
from contextlib import asynccontextmanager, suppress
from typing import Final

from dbus_fast import Message, RequestNameReply, Variant
from dbus_fast.aio import MessageBus

from livemon.errors import RadioError
from livemon.link.fake_bluez.adapter_calls import AdapterCalls
from livemon.link.fake_bluez.air import Air
from livemon.link.fake_bluez.description import Adapter, Peripheral
from livemon.link.fake_bluez.device_calls import DeviceCalls
from livemon.link.fake_bluez.discovery import Discovery
from livemon.link.fake_bluez.dispatch import Dispatch
from livemon.link.fake_bluez.gatt import Gatt
from livemon.link.fake_bluez.gatt_calls import GattCalls
from livemon.link.fake_bluez.links import Links
from livemon.link.fake_bluez.object_calls import ObjectCalls
from livemon.link.fake_bluez.objects import (
    ADAPTER,
    CHARACTERISTIC,
    DEVICE,
    adapter_object,
    adapter_path,
    device_path,
)
from livemon.link.fake_bluez.outbox import Outbox
from livemon.link.fake_bluez.subscriptions import Subscriptions
from livemon.link.fake_bluez.tree import ObjectTree

NAME: Final = "org.bluez"


class FakeBluez:
    """One adapter and its surroundings. Addresses and UUIDs as in the descriptions."""

    def __init__(
        self, send: Callable[[Message], None], adapter: Adapter, peripherals: Iterable[Peripheral]
    ) -> None:
        self._adapter = adapter
        self._send = send
        self._changed = asyncio.Event()
        self._air = Air(peripherals)
        self._tree = ObjectTree(self._announce)
        self._subscriptions = Subscriptions(self._tree)
        self._gatt = Gatt(self._tree, self._subscriptions)
        self._links = Links(self._tree, adapter, self._air, self._gatt)
        self._discovery = Discovery(self._tree, adapter, self._air, self._links.has_room)
        self._gatt_calls = GattCalls(self._tree, self._gatt, self._subscriptions)
        methods = {
            **ObjectCalls(self._tree, self._power).methods(),
            **AdapterCalls(self._tree, adapter, self._discovery, self._links).methods(),
            **DeviceCalls(self._tree, adapter, self._discovery, self._links, send).methods(),
            **self._gatt_calls.methods(),
        }
        self._dispatch = Dispatch(self._tree, methods, send)
        self._tree.add(adapter_path(adapter), adapter_object(adapter))

    def send(self, address: str, characteristic: str, payload: bytes) -> bool:
        """Let a sensor notify; False if it isn't linked or nobody subscribed."""
        path = self._gatt.path(device_path(self._adapter, address), characteristic)
        return path is not None and self._subscriptions.deliver(path, payload)

    def set_value(self, address: str, characteristic: str, value: bytes) -> None:
        """Let reads give `value` from now on."""
        device = device_path(self._adapter, address)
        self._gatt.set_value(device, address, characteristic, value)

    def drop(self, address: str) -> None:
        """The link breaks; the sensor advertises again at once."""
        self._links.disconnect(device_path(self._adapter, address))
        self._discovery.hear(address)

    def vanish(self, address: str) -> None:
        """The sensor goes out of reach and is forgotten: link, services, device."""
        self._air.leave(address)
        path = device_path(self._adapter, address)
        self._links.disconnect(path)
        self._tree.remove(path)

    def go_quiet(self, address: str) -> None:
        """The sensor goes out of reach, but its device is still listed: connecting hangs."""
        self._air.leave(address)
        self._links.disconnect(device_path(self._adapter, address))

    def appear(self, address: str) -> None:
        """The sensor is back within reach."""
        self._air.come(address)
        self._discovery.hear(address)

    def add(self, peripheral: Peripheral) -> None:
        """Another sensor is switched on."""
        self._air.add(peripheral)
        self._discovery.hear(peripheral.address)

    def fail_connect(self, address: str, times: int = 1) -> None:
        """Let the next `times` attempts to connect fail."""
        self._air.refuse(address, times)

    def power_off(self) -> None:
        """Bluetooth is switched off: every scan and every link ends."""
        self._power(False)

    def power_on(self) -> None:
        """Bluetooth is switched on again; nothing is linked."""
        self._power(True)

    @property
    def overlaps(self) -> int:
        """How often a client asked for something while the radio was busy."""
        return self._dispatch.overlaps

    @property
    def writes(self) -> tuple[tuple[str, bytes], ...]:
        """UUID and bytes of everything that clients wrote, in order."""
        return tuple(self._gatt_calls.writes)

    def known(self, address: str) -> bool:
        """Whether the sensor was heard and not forgotten."""
        return device_path(self._adapter, address) in self._tree

    def connected(self, address: str) -> bool:
        """Whether the sensor's link is up."""
        return device_path(self._adapter, address) in self._links.up

    def resolved(self, address: str) -> bool:
        """Whether the sensor's link is up and its services are known."""
        path = device_path(self._adapter, address)
        return path in self._tree and bool(self._tree.value(path, DEVICE, "ServicesResolved"))

    def subscribed(self, address: str, characteristic: str) -> bool:
        """Whether somebody is notified of it."""
        path = self._gatt.path(device_path(self._adapter, address), characteristic)
        return path is not None and self._subscriptions.has(path)

    def acquired(self, address: str, characteristic: str) -> bool:
        """Whether the notifications go through a socket."""
        path = self._gatt.path(device_path(self._adapter, address), characteristic)
        if path is None:
            return False
        return bool(self._tree.value(path, CHARACTERISTIC, "NotifyAcquired"))

    @property
    def scanning(self) -> bool:
        """Whether anybody scans."""
        return self._discovery.active

    @property
    def connecting(self) -> bool:
        """Whether an attempt to connect is under way."""
        return self._links.attempting

    async def until(self, claim: Callable[[], bool]) -> None:
        """Wait for `claim` to hold; it is asked after each call and each visible change."""
        while not claim():
            self._changed.clear()
            await self._changed.wait()

    def receive(self, message: Message) -> bool:
        """Take a message from the bus; False if it was not for us."""
        if _leaves(message):
            self._discovery.forget_client(message.body[0])
            self._subscriptions.forget_client(message.body[0])
            return True
        taken = self._dispatch.take(message)
        self._changed.set()
        return taken

    def close(self) -> None:
        """End scans and links, so that no timer or task is left."""
        self._discovery.stop_all()
        self._links.disconnect_all()

    def _power(self, on: bool) -> None:
        if not on:
            self._discovery.stop_all()
            self._links.disconnect_all()
        path = adapter_path(self._adapter)
        self._tree.change(path, ADAPTER, {"Powered": Variant("b", on)})

    def _announce(self, message: Message) -> None:
        self._changed.set()
        self._send(message)


@asynccontextmanager
async def fake_bluez(
    bus_address: str, peripherals: Iterable[Peripheral] = (), adapter: Adapter | None = None
) -> AsyncIterator[FakeBluez]:
    """Offer the service on a bus until the block ends.

    Raises:
        RadioError: somebody else offers it there; the machine's own Bluetooth is never shadowed.
    """
    bus = await MessageBus(bus_address, negotiate_unix_fd=True).connect()
    outbox = Outbox(bus)
    bluez = FakeBluez(outbox.put, adapter or Adapter(), peripherals)
    bus.add_message_handler(bluez.receive)
    try:
        await bus.call(_tell_when_clients_leave())
        if await bus.request_name(NAME) is not RequestNameReply.PRIMARY_OWNER:
            raise RadioError(f"a Bluetooth service already answers at {bus_address}")
        yield bluez
    finally:
        bluez.close()
        outbox.close()
        bus.disconnect()
        with suppress(EOFError, OSError):  # the bus may have gone before us
            await bus.wait_for_disconnect()  # type: ignore[no-untyped-call]  # theirs


def _leaves(message: Message) -> bool:
    """Whether it says that a client left the bus."""
    return message.member == "NameOwnerChanged" and not message.body[2]


def _tell_when_clients_leave() -> Message:
    rule = "type='signal',sender='org.freedesktop.DBus',member='NameOwnerChanged'"
    return Message(
        destination="org.freedesktop.DBus",
        path="/org/freedesktop/DBus",
        interface="org.freedesktop.DBus",
        member="AddMatch",
        signature="s",
        body=[rule],
    )
