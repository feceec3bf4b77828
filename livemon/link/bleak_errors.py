"""Turn what bleak and the systems below it raise into our own few errors, once and for all.

Beside `bleak_radio`, `bleak_link` and the simulated backends nothing imports bleak. This decides
by type, error name and ATT code; one message has to be read, because bleak gives it no type.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from typing import Final

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

from livemon.errors import LinkLost, RadioError
from livemon.link.bounded import TookTooLong
from livemon.link.trouble import CharacteristicMissing, RadioBusy, SensorNotFound, SensorRefuses
from livemon.tongue import marked

#: Errors are English, as logs are; the screen looks up those that are marked.
_NO_SERVICE: Final = marked(
    "The Bluetooth service does not run on this computer. On Linux start it with"
    " “sudo systemctl start bluetooth” (package bluez) and try again; elsewhere restart the"
    " computer. Without Bluetooth, recordings still replay, and “livemon demo” still runs."
)
_OFF: Final = marked(
    "Bluetooth is switched off. Switch it on in the system settings (on Linux also"
    " “bluetoothctl power on”, or “rfkill unblock bluetooth” if it is blocked); livemon goes on"
    " by itself."
)
_NO_ADAPTER: Final = marked(
    "This computer has no Bluetooth adapter that can be used. Plug in one for Bluetooth Low"
    " Energy (4.0 or newer), or unplug and replug the one that is there, and try again."
)
_DENIED: Final = marked(
    "This program is not allowed to use Bluetooth. On macOS allow it for your terminal, or for"
    " livemon, under System Settings › Privacy & Security › Bluetooth; on Windows under Settings ›"
    " Privacy; on Linux ask whoever looks after the computer for access to org.bluez."
)
_WRONG_THREAD: Final = marked(
    "Windows does not pass Bluetooth events to this thread, because some library prepared it for a"
    " window. Start livemon by itself and not from inside another program."
)

_REASONS: Final = {
    BleakBluetoothNotAvailableReason.NO_BLUETOOTH: _NO_ADAPTER,
    BleakBluetoothNotAvailableReason.NO_BLE_CENTRAL_ROLE: _NO_ADAPTER,
    BleakBluetoothNotAvailableReason.POWERED_OFF: _OFF,
    BleakBluetoothNotAvailableReason.DENIED_BY_USER: _DENIED,
    BleakBluetoothNotAvailableReason.DENIED_BY_SYSTEM: _DENIED,
    BleakBluetoothNotAvailableReason.DENIED_BY_UNKNOWN: _DENIED,
    BleakBluetoothNotAvailableReason.UNKNOWN: _NO_ADAPTER,
}

#: D-Bus and BlueZ error names (https://github.com/bluez/bluez, src/error.c and doc/*.rst).
_DBUS: Final[dict[str, Callable[[], LinkLost | RadioError]]] = {
    "org.freedesktop.DBus.Error.ServiceUnknown": partial(RadioError, _NO_SERVICE),
    "org.freedesktop.DBus.Error.NameHasNoOwner": partial(RadioError, _NO_SERVICE),
    "org.freedesktop.DBus.Error.AccessDenied": partial(RadioError, _DENIED),
    "org.bluez.Error.NotReady": partial(RadioError, _OFF),
    "org.bluez.Error.InProgress": partial(
        RadioBusy, marked("the adapter is busy with something else")
    ),
    "org.freedesktop.DBus.Error.UnknownObject": partial(
        SensorNotFound, marked("the system forgot the sensor")
    ),
    "org.bluez.Error.DoesNotExist": partial(SensorNotFound, marked("the system forgot the sensor")),
    "org.bluez.Error.AuthenticationFailed": partial(SensorRefuses, marked("pairing failed")),
    "org.bluez.Error.AuthenticationCanceled": partial(
        SensorRefuses, marked("pairing was cancelled")
    ),
    "org.bluez.Error.AuthenticationRejected": partial(
        SensorRefuses, marked("the sensor rejected the pairing")
    ),
    "org.bluez.Error.AuthenticationTimeout": partial(
        SensorRefuses, marked("pairing took too long")
    ),
    "org.bluez.Error.NotAuthorized": partial(
        SensorRefuses, marked("the sensor wants a pairing first")
    ),
}

#: ATT errors that no retry cures (Core 5.4 Vol 3 Part F 3.4.1.1). 0x0E, Unlikely Error, is left
#: out: some sensors answer so for a lost bond, others for any passing trouble.
_REFUSALS: Final = {
    BleakGATTProtocolErrorCode.INSUFFICIENT_AUTHENTICATION,
    BleakGATTProtocolErrorCode.INSUFFICIENT_AUTHORIZATION,
    BleakGATTProtocolErrorCode.INSUFFICIENT_ENCRYPTION_KEY_SIZE,
    BleakGATTProtocolErrorCode.INSUFFICIENT_ENCRYPTION,
}

#: Begins the untyped error of bleak's Windows backend (`winrt/util.py`, `assert_mta`).
WRONG_THREAD_TEXT: Final = "Thread is configured for Windows GUI"

#: What a Bluetooth call may raise beyond bleak's own errors: a bus that isn't there or died
#: (OSError, EOFError), and bleak's asserts when a link ends in the middle of a call.
_FOREIGN: Final = (BleakError, OSError, EOFError, AssertionError)


@contextmanager
def translated(doing: str) -> Iterator[None]:
    """Raise our own errors for whatever Bluetooth raises inside.

    Args:
        doing: what was tried, for the message, as in "opening the link".
    """
    try:
        yield
    except (TookTooLong, TimeoutError) as error:
        raise LinkLost(f"{doing} took too long") from error
    except _FOREIGN as error:
        raise translate(error, doing) from error


def translate(error: Exception, doing: str) -> LinkLost | RadioError:
    """Return our own error for one that Bluetooth raised."""
    match error:
        case BleakBluetoothNotAvailableError():
            return RadioError(_REASONS[error.reason])
        case BleakDBusError() if error.dbus_error in _DBUS:
            return _DBUS[error.dbus_error]()
        case BleakGATTProtocolError() if error.code in _REFUSALS:
            return SensorRefuses(f"the sensor wants a pairing first (ATT 0x{error.code:02X})")
        case BleakCharacteristicNotFoundError():
            return CharacteristicMissing(str(error.char_specifier))
        case BleakDeviceNotFoundError():
            return SensorNotFound(marked("the system no longer finds the sensor"))
        case FileNotFoundError() | ConnectionRefusedError():
            return RadioError(_NO_SERVICE)
        case PermissionError():
            return RadioError(_DENIED)
        case BleakError() if str(error).startswith(WRONG_THREAD_TEXT):
            return RadioError(_WRONG_THREAD)
    return LinkLost(f"{doing} failed: {str(error) or type(error).__name__}")
