"""The simulated radio as bleak wants it: a scanner, a client and an adapter for its `backend=`.

bleak says that this interface may change; `tests/link/test_bleak_conformance.py` watches it.
Nothing here is peculiar to one operating system.
"""

import asyncio
from collections.abc import Callable
from typing import Any, ClassVar

from bleak.args import SizedBuffer
from bleak.assigned_numbers import CharacteristicPropertyName
from bleak.backends.adapter import BaseBleakAdapter
from bleak.backends.characteristic import BleakGATTCharacteristic
from bleak.backends.client import BaseBleakClient, NotifyCallback
from bleak.backends.descriptor import BleakGATTDescriptor
from bleak.backends.device import BLEDevice
from bleak.backends.scanner import AdvertisementData, BaseBleakScanner
from bleak.backends.service import BleakGATTService, BleakGATTServiceCollection
from bleak.exc import BleakDeviceNotFoundError, BleakError

from livemon.decode.presentation_format import PRESENTATION_FORMAT
from livemon.link.bleak_radio import Backends
from livemon.link.simulated.air import Air
from livemon.link.simulated.place import Place
from livemon.link.simulated.sensor import SimulatedSensor


def backends(air: Air) -> Backends:
    """Return classes that bleak may use in place of the system's Bluetooth."""
    bound = {"air": air}
    return Backends(
        scanner=type("SimulatedScanner", (SimulatedScanner,), bound),
        client=type("SimulatedClient", (SimulatedClient,), bound),
        adapter=type("SimulatedAdapter", (SimulatedAdapter,), bound),
    )


class SimulatedScanner(BaseBleakScanner):
    """Hears what is in the air."""

    air: ClassVar[Air]

    def __init__(
        self,
        detection_callback: Callable[[BLEDevice, AdvertisementData], None] | None,
        service_uuids: list[str] | None,
        scanning_mode: str,
        **_: object,
    ) -> None:
        super().__init__(detection_callback, service_uuids)

    async def start(self) -> None:
        """Start to scan."""
        self.seen_devices = {}
        self.air.start_scan(self)

    async def stop(self) -> None:
        """Stop."""
        self.air.stop_scan(self)

    def heard(self, sensor: SimulatedSensor) -> None:
        """Pass an advertisement on to bleak."""
        advertised = sensor.services if sensor.advertised is None else sensor.advertised
        services = list(advertised)
        if not self.is_allowed_uuid(services):
            return
        advert = AdvertisementData(
            local_name=sensor.name,
            manufacturer_data={},
            service_data={},
            service_uuids=services,
            tx_power=None,
            rssi=sensor.rssi_dbm,
            platform_data=(),
        )
        device = self.create_or_update_device(
            sensor.address, sensor.address, sensor.name, sensor, advert
        )
        self.call_detection_callbacks(device, advert)


class SimulatedClient(BaseBleakClient):
    """Holds a link to one simulated sensor."""

    air: ClassVar[Air]

    def __init__(self, address_or_ble_device: BLEDevice | str, **options: Any) -> None:  # noqa: ANN401 - bleak's own signature
        super().__init__(address_or_ble_device, **options)
        self._device = address_or_ble_device
        winrt = options.get("winrt") or {}
        self._fresh_services = winrt.get("use_cached_services") is False
        self._place: Place | None = None

    @property
    def name(self) -> str:
        """The sensor's name."""
        return (self._sensor().name if self._place else None) or self.address

    @property
    def mtu_size(self) -> int:
        """What most systems agree on."""
        return 247

    @property
    def is_connected(self) -> bool:
        """Whether the system believes so: a link of whose end no word came counts."""
        return self._place is not None

    async def connect(self, pair: bool, **_: object) -> None:
        """Open the link and read the table of services."""
        sensor = self._sensor()
        if sensor.address != self.address:
            raise BleakDeviceNotFoundError(self.address, "its address has changed")
        self._place = await self.air.open(sensor, self)
        await asyncio.sleep(sensor.discovery_s)
        self._need_link()
        self.services = _services(sensor, fresh=self._fresh_services)

    async def disconnect(self) -> None:
        """End the link."""
        place, self._place = self._place, None
        if place is not None and place.holder is self:
            await self.air.close_link(place)

    def link_ended(self) -> None:
        """Pass the word on to bleak."""
        self._place = None
        if self._disconnected_callback is not None:
            self._disconnected_callback()

    async def pair(self, *_: object, **__: object) -> None:
        """Nothing to do."""

    async def unpair(self) -> None:
        """Nothing to do."""

    async def read_gatt_char(
        self, characteristic: BleakGATTCharacteristic, *, use_cached: bool = False, **_: object
    ) -> bytearray:
        """Return a value of the sensor's."""
        self._need_link()
        if "read" not in characteristic.properties:
            raise BleakError("not readable")
        return bytearray(characteristic.obj)

    async def write_gatt_char(
        self,
        characteristic: BleakGATTCharacteristic,
        data: SizedBuffer,
        response: bool,
    ) -> None:
        """Hand over what is written."""
        self._need_link()
        self._sensor().written.append((characteristic.uuid, bytes(data)))

    async def read_gatt_descriptor(
        self, descriptor: BleakGATTDescriptor, *, use_cached: bool = False, **_: object
    ) -> bytearray:
        """Return what the sensor says of a characteristic."""
        self._need_link()
        return bytearray(descriptor.obj)

    async def write_gatt_descriptor(
        self, descriptor: BleakGATTDescriptor, data: SizedBuffer
    ) -> None:
        """None can be written."""
        raise BleakError("not writable")

    async def start_notify(
        self, characteristic: BleakGATTCharacteristic, callback: NotifyCallback, **_: object
    ) -> None:
        """Subscribe."""
        place = self._need_link()
        if place.sensor.troubles.refusal is not None:
            raise place.sensor.troubles.refusal
        place.subscribers[characteristic.uuid] = lambda payload: callback(bytearray(payload))

    async def stop_notify(self, characteristic: BleakGATTCharacteristic) -> None:
        """Unsubscribe."""
        self._need_link().subscribers.pop(characteristic.uuid, None)

    def _sensor(self) -> SimulatedSensor:
        device = self._device
        if isinstance(device, BLEDevice) and isinstance(device.details, SimulatedSensor):
            return device.details
        raise BleakDeviceNotFoundError(self.address, "not in this air")

    def _need_link(self) -> Place:
        place = self._place
        if place is None or place.holder is not self:
            raise BleakError("Not connected")
        return place


class SimulatedAdapter(BaseBleakAdapter):
    """Knows which links the system holds."""

    air: ClassVar[Air]

    @classmethod
    async def get(cls, **_: object) -> "SimulatedAdapter":
        """Return the one adapter."""
        return cls()

    async def get_connected_devices(self, service_uuids: frozenset[str]) -> list[BLEDevice]:
        """Return sensors in a link, whoever opened it."""
        return [
            BLEDevice(place.sensor.address, place.sensor.name, place.sensor)
            for place in self.air.places
            if place.linked and service_uuids & set(place.sensor.services)
        ]


def _services(sensor: SimulatedSensor, *, fresh: bool) -> BleakGATTServiceCollection:
    """Lay out the table of services, or an old one that the system remembers."""
    collection = BleakGATTServiceCollection()
    notifying = sensor.services
    if sensor.troubles.old_tables and not fresh:
        sensor.troubles.old_tables -= 1
        notifying = {}
    rows: list[tuple[str, str, list[CharacteristicPropertyName], bytes]] = [
        (service, uuid, ["notify"], b"") for service, uuids in notifying.items() for uuid in uuids
    ]
    rows += [
        (service, uuid, ["read"], value)
        for service, values in sensor.readable.items()
        for uuid, value in values.items()
    ]
    rows += [
        (service, uuid, ["write"], b"")
        for service, uuids in sensor.writable.items()
        for uuid in uuids
    ]
    handles: dict[str, BleakGATTService] = {}
    handle = 100
    for service, uuid, properties, value in rows:
        if service not in handles:
            handles[service] = BleakGATTService(None, len(handles) + 1, service)
            collection.add_service(handles[service])
        characteristic = BleakGATTCharacteristic(
            value, handle, uuid, properties, lambda: 244, handles[service]
        )
        collection.add_characteristic(characteristic)
        said = sensor.described.get(uuid, ()) if "notify" in properties else ()
        for number, descriptor in enumerate(said, start=1):
            collection.add_descriptor(
                BleakGATTDescriptor(
                    descriptor, handle + number, PRESENTATION_FORMAT, characteristic
                )
            )
        handle += 1 + len(said)
    return collection
