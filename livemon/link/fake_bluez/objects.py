"""How BlueZ would show an adapter, a device and its characteristics: paths and properties.

Property names and types as in BlueZ's doc/org.bluez.{Adapter,Device,GattService,
GattCharacteristic,GattDescriptor}.rst. Paths end in four hexadecimal digits, which clients parse.
"""

from collections.abc import Mapping
from typing import Final

from dbus_fast import Variant

from livemon.link.fake_bluez.description import Adapter, Characteristic, Peripheral
from livemon.link.fake_bluez.tree import Interfaces

ADAPTER: Final = "org.bluez.Adapter1"
DEVICE: Final = "org.bluez.Device1"
SERVICE: Final = "org.bluez.GattService1"
CHARACTERISTIC: Final = "org.bluez.GattCharacteristic1"
DESCRIPTOR: Final = "org.bluez.GattDescriptor1"

#: Client Characteristic Configuration (Assigned Numbers 3.7).
_CLIENT_CONFIGURATION: Final = "00002902-0000-1000-8000-00805f9b34fb"

#: What one LE packet of 251 bytes holds (Core 4.2's data length extension), as many devices offer.
MTU_BYTES: Final = 247


def adapter_path(adapter: Adapter) -> str:
    """Where the adapter lives."""
    return f"/org/bluez/{adapter.name}"


def device_path(adapter: Adapter, address: str) -> str:
    """Where a device that this adapter heard lives."""
    return f"{adapter_path(adapter)}/dev_{address.replace(':', '_')}"


def adapter_object(adapter: Adapter) -> Interfaces:
    """An adapter that is switched on and idle."""
    return {
        ADAPTER: {
            "Address": Variant("s", adapter.address),
            "AddressType": Variant("s", "public"),
            "Name": Variant("s", "livemon, invented"),
            "Alias": Variant("s", "livemon, invented"),
            "Powered": Variant("b", True),
            "Discovering": Variant("b", False),
            "Discoverable": Variant("b", False),
            "Pairable": Variant("b", False),
            "Roles": Variant("as", ["central"]),
            "UUIDs": Variant("as", []),
        }
    }


def device_object(adapter: Adapter, peripheral: Peripheral) -> Interfaces:
    """A device that was just heard for the first time."""
    return {
        DEVICE: {
            "Address": Variant("s", peripheral.address),
            "AddressType": Variant("s", "random"),
            "Name": Variant("s", peripheral.name),
            "Alias": Variant("s", peripheral.name),
            "Adapter": Variant("o", adapter_path(adapter)),
            "UUIDs": Variant("as", list(peripheral.advertised)),
            "RSSI": Variant("n", peripheral.rssi_dbm),
            "Paired": Variant("b", False),
            "Bonded": Variant("b", False),
            "Trusted": Variant("b", False),
            "Blocked": Variant("b", False),
            "LegacyPairing": Variant("b", False),
            "Connected": Variant("b", False),
            "ServicesResolved": Variant("b", False),
        }
    }


def gatt_objects(
    device: str, peripheral: Peripheral, values: Mapping[str, bytes]
) -> dict[str, Interfaces]:
    """Return what a device offers once its services are resolved, parents first.

    `values` says by UUID what a characteristic holds now, where that isn't its first value.
    """
    objects: dict[str, Interfaces] = {}
    handle = 1  # handles count through services, characteristics, values and descriptors
    for service in peripheral.services:
        service_path = f"{device}/service{handle:04x}"
        objects[service_path] = {
            SERVICE: {
                "UUID": Variant("s", service.uuid),
                "Device": Variant("o", device),
                "Primary": Variant("b", True),
                "Includes": Variant("ao", []),
            }
        }
        handle += 1
        for characteristic in service.characteristics:
            path = f"{service_path}/char{handle:04x}"
            value = values.get(characteristic.uuid, characteristic.value)
            objects[path] = _characteristic_object(service_path, characteristic, value)
            handle += 2
            if characteristic.notifies:
                objects[f"{path}/desc{handle:04x}"] = _client_configuration(path)
                handle += 1
    return objects


def _characteristic_object(
    service_path: str, characteristic: Characteristic, value: bytes
) -> Interfaces:
    properties = {
        "UUID": Variant("s", characteristic.uuid),
        "Service": Variant("o", service_path),
        "Flags": Variant("as", list(characteristic.flags)),
        "Value": Variant("ay", value),
        "MTU": Variant("q", MTU_BYTES),
    }
    if characteristic.notifies:
        properties |= {"Notifying": Variant("b", False), "NotifyAcquired": Variant("b", False)}
    return {CHARACTERISTIC: properties}


def _client_configuration(characteristic_path: str) -> Interfaces:
    return {
        DESCRIPTOR: {
            "UUID": Variant("s", _CLIENT_CONFIGURATION),
            "Characteristic": Variant("o", characteristic_path),
            "Value": Variant("ay", bytes(2)),
            "Flags": Variant("as", ["read", "write"]),
        }
    }
