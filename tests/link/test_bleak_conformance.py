"""The installed bleak still has what we lean on. No fakes here: a fake would always agree."""

import ast
import enum
import inspect
from importlib.util import find_spec
from pathlib import Path
from typing import Final

import bleak
import pytest
from bleak.backends.characteristic import BleakGATTCharacteristic
from bleak.backends.client import BaseBleakClient
from bleak.backends.descriptor import BleakGATTDescriptor
from bleak.backends.device import BLEDevice
from bleak.backends.scanner import AdvertisementData, BaseBleakScanner
from bleak.backends.service import BleakGATTService, BleakGATTServiceCollection
from bleak.exc import (
    BleakBluetoothNotAvailableError,
    BleakBluetoothNotAvailableReason,
    BleakCharacteristicNotFoundError,
    BleakDBusError,
    BleakDeviceNotFoundError,
    BleakError,
    BleakGATTProtocolError,
    BleakGATTProtocolErrorCode,
)

import livemon
from livemon.link.bleak_errors import WRONG_THREAD_TEXT

PACKAGE = Path(livemon.__file__).parent


#: Functions and the arguments that we give them, of our own side and of the make-believe backends.
ARGUMENTS: Final = (
    (bleak.BleakScanner.__init__, {"detection_callback", "bluez", "backend"}),
    (bleak.BleakScanner.start, set()),
    (bleak.BleakScanner.stop, set()),
    (
        bleak.BleakClient.__init__,
        {
            "address_or_ble_device",
            "disconnected_callback",
            "timeout",
            "pair",
            "bluez",
            "winrt",
            "backend",
        },
    ),
    (bleak.BleakClient.connect, set()),
    (bleak.BleakClient.disconnect, set()),
    (bleak.BleakClient.start_notify, {"char_specifier", "callback", "bluez"}),
    (bleak.BleakClient.read_gatt_char, {"char_specifier"}),
    (bleak.BleakClient.read_gatt_descriptor, {"desc_specifier"}),
    (bleak.BleakClient.write_gatt_char, {"char_specifier", "data", "response"}),
    (BaseBleakScanner.__init__, {"detection_callback", "service_uuids"}),
    (BaseBleakScanner.call_detection_callbacks, {"device", "advertisement_data"}),
    (
        BaseBleakScanner.create_or_update_device,
        {"key", "address", "name", "details", "adv"},
    ),
    (BaseBleakScanner.is_allowed_uuid, {"service_uuids"}),
    (
        BaseBleakClient.__init__,
        {"address_or_ble_device", "disconnected_callback", "timeout"},
    ),
    (BaseBleakClient.connect, {"pair"}),
    (BaseBleakClient.start_notify, {"characteristic", "callback"}),
    (BleakGATTService.__init__, {"obj", "handle", "uuid"}),
    (
        BleakGATTCharacteristic.__init__,
        {"obj", "handle", "uuid", "properties", "max_write_without_response_size", "service"},
    ),
    (BleakGATTServiceCollection.add_service, {"service"}),
    (BleakGATTServiceCollection.add_characteristic, {"characteristic"}),
)
#: Classes and what we read of their objects.
ATTRIBUTES: Final = (
    (bleak.BleakClient, {"services", "is_connected"}),
    (BLEDevice, {"address", "name", "details"}),
    (AdvertisementData, {"local_name", "rssi", "service_uuids"}),
    (BleakGATTServiceCollection, {"characteristics"}),
    (BleakGATTCharacteristic, {"uuid", "service_uuid", "properties", "descriptors"}),
    (BleakGATTDescriptor, {"uuid"}),
    (BleakDBusError, {"dbus_error"}),
    (BleakGATTProtocolError, {"code"}),
    (BleakBluetoothNotAvailableError, {"reason"}),
)
#: The only files through which the product itself talks to bleak.
OURS: Final = ("bleak_errors.py", "bleak_link.py", "bleak_radio.py")


@pytest.mark.parametrize(
    ("function", "names"), ARGUMENTS, ids=lambda value: getattr(value, "__qualname__", "")
)
def test_takes_the_arguments_that_we_give(function: object, names: set[str]) -> None:
    assert callable(function)
    assert names <= set(inspect.signature(function).parameters)


@pytest.mark.parametrize(
    ("owner", "names"), ATTRIBUTES, ids=lambda value: getattr(value, "__qualname__", "")
)
def test_has_the_attributes_that_we_read(owner: type, names: set[str]) -> None:
    assert names <= set(dir(owner))


def test_everything_that_we_lean_on_is_checked_here() -> None:
    """Whoever takes something more from bleak finds out here that the lists above miss it."""
    checked = {function.__name__ for function, _ in ARGUMENTS}
    checked |= set().union(*(names for _, names in ATTRIBUTES))
    checked |= {"get", "get_connected_devices"}  # of the adapter, below
    checked |= {"pair"}  # of our own `Opening`; the client's method is not called
    theirs = set().union(*(dir(owner) for owner, _ in ATTRIBUTES), dir(bleak.BleakScanner))
    trees = [ast.parse((PACKAGE / "link" / name).read_text(encoding="utf-8")) for name in OURS]
    read = {
        node.attr
        for tree in trees
        for node in ast.walk(tree)
        if isinstance(node, ast.Attribute) and node.attr in theirs
    }

    assert {"connect", "descriptors", "services"} <= read
    assert read <= checked


def test_an_adapter_answers_for_open_links_since_3_1() -> None:
    adapter = getattr(bleak, "BleakAdapter", None)
    if adapter is None:
        pytest.skip("bleak before 3.1 can't tell; we then do without")
    assert {"bluez", "backend"} <= set(inspect.signature(adapter.get).parameters)
    assert "service_uuids" in inspect.signature(adapter.get_connected_devices).parameters


def test_a_plain_callback_is_called_directly_and_only_an_async_one_becomes_a_task() -> None:
    """We take the time in the first line of a plain callback; a task would be late."""
    source = inspect.getsource(bleak.BleakClient.start_notify)

    assert "iscoroutinefunction(callback)" in source
    assert "functools.partial(callback, characteristic)" in source


def imported_by(path: Path) -> set[str]:
    """Return the top names that a file imports."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found.update(alias.name.split(".")[0] for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            found.add((node.module or "").split(".")[0])
    return found


def test_bleak_is_known_to_few_files() -> None:
    importing = {path for path in PACKAGE.rglob("*.py") if "bleak" in imported_by(path)}

    assert {path.relative_to(PACKAGE).as_posix() for path in importing} <= {
        "link/bleak_errors.py",
        "link/bleak_link.py",
        "link/bleak_radio.py",
        "link/simulated/air.py",
        "link/simulated/backends.py",
        "link/simulated/faults.py",
        "link/simulated/sensor.py",
    }


def test_nothing_spoils_the_thread_for_bluetooth_on_windows() -> None:
    """These prepare their thread for a window; WinRT's callbacks then never come (bleak's docs)."""
    spoilers = {"pythoncom", "pywintypes", "win32api", "win32com", "win32gui", "comtypes"}

    assert all(not imported_by(path) & spoilers for path in PACKAGE.rglob("*.py"))


def test_errors_stand_where_we_look_for_them() -> None:
    kinds = (
        BleakBluetoothNotAvailableError,
        BleakCharacteristicNotFoundError,
        BleakDBusError,
        BleakDeviceNotFoundError,
        BleakGATTProtocolError,
    )
    assert all(issubclass(kind, BleakError) for kind in kinds)
    assert isinstance(BleakGATTProtocolErrorCode(0x42), enum.Enum)  # unknown codes are no error
    assert {reason.name for reason in BleakBluetoothNotAvailableReason} == {
        "NO_BLUETOOTH",
        "NO_BLE_CENTRAL_ROLE",
        "POWERED_OFF",
        "DENIED_BY_USER",
        "DENIED_BY_SYSTEM",
        "DENIED_BY_UNKNOWN",
        "UNKNOWN",
    }


def test_the_one_message_that_we_read_is_still_written_so() -> None:
    """Windows only, so its file is read and not imported."""
    spec = find_spec("bleak")
    assert spec is not None
    assert spec.origin is not None
    source = Path(spec.origin).parent / "backends" / "winrt" / "util.py"

    assert WRONG_THREAD_TEXT in source.read_text(encoding="utf-8")
