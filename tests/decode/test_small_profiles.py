"""Battery level, body location and device texts: one value each.

Values as in the SIG's GATT Specification Supplement.
"""

import pytest
from bumble.profiles.battery_service import BatteryService
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.decode import (
    battery,
    body_location,
    cycling,
    cycling_power,
    device_information,
    heart_rate,
    machine_fields,
    presentation_format,
    pulse_oximeter,
    running,
)
from livemon.decode.battery import decode_battery
from livemon.decode.body_location import BodyLocation, decode_body_location
from livemon.decode.device_information import decode_text
from livemon.decode.samples import BatterySample
from livemon.decode.uuids import normal_uuid, sig_uuid
from livemon.errors import DecodeError


@pytest.mark.parametrize(
    ("payload", "battery_pct"),
    [("64", 100), ("22", 34), ("00", 0), ("65", None), ("FF", None)],
)
def test_battery_beyond_full_is_not_known(payload: str, battery_pct: int | None) -> None:
    decoded = decode_battery(bytes.fromhex(payload), 3.0, "strap")

    assert decoded == BatterySample(3.0, "strap", battery_pct)


@pytest.mark.parametrize("charge_pct", range(101))
def test_battery_as_an_independent_encoder_writes_it(charge_pct: int) -> None:
    """Google's Bumble, profiles/battery_service."""
    service = BatteryService(lambda _connection: charge_pct)
    payload = service.battery_level_characteristic.encode_value(charge_pct)

    assert decode_battery(payload, 3.0, "strap").battery_pct == charge_pct


@pytest.mark.parametrize("payload", [b"", b"\x64\x00", bytes(100)])
def test_a_run_of_zeros_is_no_empty_battery(payload: bytes) -> None:
    """What BlueZ was seen to hand out (bleak issue 750)."""
    with pytest.raises(DecodeError) as caught:
        decode_battery(payload, 0.0, "strap")

    assert caught.value.problem == f"{len(payload)} octets, expected 1"


@pytest.mark.parametrize(
    ("payload", "location"),
    [
        ("00", BodyLocation.OTHER),
        ("01", BodyLocation.CHEST),
        ("02", BodyLocation.WRIST),
        ("03", BodyLocation.FINGER),
        ("04", BodyLocation.HAND),
        ("05", BodyLocation.EAR_LOBE),
        ("06", BodyLocation.FOOT),
        ("07", None),
        ("FF", None),
        ("", None),
    ],
)
def test_body_location(payload: str, location: BodyLocation | None) -> None:
    assert decode_body_location(bytes.fromhex(payload)) is location


@pytest.mark.parametrize(
    ("payload", "text"),
    [
        (b"Model 3\0\0", "Model 3"),
        ("Größe µ".encode(), "Größe µ"),
        (b"cut \xc3", "cut \ufffd"),
        (b"a\x1b[31mb\nc", "a\ufffd[31mb\ufffdc"),
        (b"", ""),
    ],
)
def test_device_texts(payload: bytes, text: str) -> None:
    assert decode_text(payload) == text


@example(b"\x1b]0;title\x07")
@given(st.binary(max_size=80))
def test_no_device_text_can_drive_a_terminal(payload: bytes) -> None:
    assert all(letter.isprintable() for letter in decode_text(payload))


@pytest.mark.parametrize("text", ["2A37", "0x2a37", "00002A37-0000-1000-8000-00805F9B34FB"])
def test_short_and_full_uuids_are_the_same(text: str) -> None:
    assert normal_uuid(text) == sig_uuid(0x2A37) == "00002a37-0000-1000-8000-00805f9b34fb"


@pytest.mark.parametrize("text", ["", "2A3", "2A3G", "-123", " 2A3", "12345678-1234", "heart rate"])
def test_other_texts_are_no_uuid(text: str) -> None:
    assert normal_uuid(text) is None


def test_profiles_have_their_assigned_numbers() -> None:
    """Bluetooth SIG, Assigned Numbers: services and characteristics."""
    assigned = [
        (heart_rate.HEART_RATE_SERVICE, 0x180D),
        (battery.BATTERY_SERVICE, 0x180F),
        (device_information.DEVICE_INFORMATION_SERVICE, 0x180A),
        (device_information.MANUFACTURER_NAME, 0x2A29),
        (device_information.MODEL_NUMBER, 0x2A24),
        (device_information.FIRMWARE_REVISION, 0x2A26),
        (pulse_oximeter.PULSE_OXIMETER_SERVICE, 0x1822),
        (running.RUNNING_SERVICE, 0x1814),
        (cycling.CYCLING_SERVICE, 0x1816),
        (cycling_power.CYCLING_POWER_SERVICE, 0x1818),
        (machine_fields.FITNESS_MACHINE_SERVICE, 0x1826),
        (body_location.BODY_SENSOR_LOCATION, 0x2A38),
        (presentation_format.PRESENTATION_FORMAT, 0x2904),
    ]

    assert all(uuid == sig_uuid(number) for uuid, number in assigned)
