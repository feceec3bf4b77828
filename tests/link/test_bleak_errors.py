"""What Bluetooth raises, and what a person is told. Error names are those of BlueZ's sources."""

import pytest
from bleak.exc import (
    BleakBluetoothNotAvailableError,
    BleakBluetoothNotAvailableReason,
    BleakCharacteristicNotFoundError,
    BleakDBusError,
    BleakDeviceNotFoundError,
    BleakError,
    BleakGATTProtocolError,
)

from livemon.errors import LinkLost, RadioError
from livemon.link.bleak_errors import WRONG_THREAD_TEXT, translate, translated
from livemon.link.bounded import TookTooLong
from livemon.link.trouble import CharacteristicMissing, RadioBusy, SensorNotFound, SensorRefuses

REASON = BleakBluetoothNotAvailableReason


@pytest.mark.parametrize(
    ("error", "kind", "told"),
    [
        pytest.param(
            FileNotFoundError(2, "No such file"), RadioError, "service does not run", id="no bus"
        ),
        pytest.param(
            BleakDBusError("org.freedesktop.DBus.Error.ServiceUnknown", []),
            RadioError,
            "systemctl start bluetooth",
            id="no BlueZ on the bus",
        ),
        pytest.param(
            BleakBluetoothNotAvailableError("off", REASON.POWERED_OFF),
            RadioError,
            "switched off",
            id="off",
        ),
        pytest.param(
            BleakBluetoothNotAvailableError("none", REASON.NO_BLUETOOTH),
            RadioError,
            "no Bluetooth adapter",
            id="no adapter",
        ),
        pytest.param(
            BleakBluetoothNotAvailableError("denied", REASON.DENIED_BY_USER),
            RadioError,
            "not allowed",
            id="macOS permission",
        ),
        pytest.param(
            BleakError(f"{WRONG_THREAD_TEXT} but callbacks are not working."),
            RadioError,
            "prepared it for a window",
            id="Windows, wrong thread",
        ),
        pytest.param(
            BleakDBusError("org.bluez.Error.InProgress", []), RadioBusy, "busy", id="in progress"
        ),
        pytest.param(
            BleakDBusError("org.bluez.Error.AuthenticationFailed", []),
            SensorRefuses,
            "pairing",
            id="pairing failed",
        ),
        pytest.param(BleakGATTProtocolError(0x05), SensorRefuses, "ATT 0x05", id="ATT 0x05"),
        pytest.param(BleakGATTProtocolError(0x0E), LinkLost, "Unlikely", id="ATT 0x0E is retried"),
        pytest.param(
            BleakDeviceNotFoundError("AA", "gone"), SensorNotFound, "no longer", id="not found"
        ),
        pytest.param(
            BleakCharacteristicNotFoundError("2a37"), CharacteristicMissing, "2a37", id="missing"
        ),
        pytest.param(BleakError("anything"), LinkLost, "reading failed: anything", id="else"),
        pytest.param(EOFError(), LinkLost, "reading failed: EOFError", id="the bus died"),
    ],
)
def test_each_error_has_its_kind_and_says_what_to_do(
    error: Exception, kind: type[Exception], told: str
) -> None:
    translation = translate(error, "reading")

    assert type(translation) is kind
    assert told in str(translation)


@pytest.mark.parametrize("reason", list(REASON))
def test_every_reason_of_bleak_has_a_text(reason: REASON) -> None:
    text = str(translate(BleakBluetoothNotAvailableError("x", reason), "scanning"))

    assert len(text) > 80
    assert "\n" not in text


@pytest.mark.parametrize("error", [TookTooLong(), TimeoutError()])
def test_a_call_that_takes_too_long_is_a_lost_link(error: Exception) -> None:
    with pytest.raises(LinkLost, match="subscribing took too long"), translated("subscribing"):
        raise error


def test_our_own_mistakes_are_not_translated() -> None:
    with pytest.raises(KeyError), translated("reading"):
        raise KeyError
