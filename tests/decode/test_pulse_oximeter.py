"""Pulse oximeter readings, against the field tables of the Pulse Oximeter Service.

The byte strings are worked out by hand from the SIG's characteristic definitions.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from livemon.decode.pulse_oximeter import decode_continuous, decode_spot_check
from livemon.decode.samples import ArterialSample
from livemon.errors import DecodeError

CONTINUOUS = [
    pytest.param("00 62 00 48 00", (98.0, 72.0, None), id="normal reading"),
    pytest.param("01 62 00 48 00 61 00 4B 00", (98.0, 72.0, None), id="normal, then fast"),
    pytest.param("00 FF 07 FF 07", (None, None, None), id="both NaN"),
    pytest.param("00 65 00 00 00", (None, None, None), id="101 % and no pulse can't be"),
    pytest.param("00 00 00 01 00", (0.0, 1.0, None), id="as little as can be said"),
    pytest.param("04 62 00 48 00 00 01", (98.0, 72.0, True), id="fully qualified"),
    pytest.param("04 62 00 48 00 00 40", (98.0, 72.0, False), id="questionable"),
    pytest.param("04 62 00 48 00 00 80", (None, None, False), id="invalid"),
    pytest.param("08 62 00 48 00 00 08 00", (98.0, 72.0, False), id="sensor off the user"),
    pytest.param(
        "1F 62 00 48 00 61 00 4B 00 63 00 47 00 80 00 20 00 00 0C F0",
        (98.0, 72.0, True),
        id="all there is",
    ),
]
SPOT_CHECK = [
    pytest.param("02 5F 00 3C 00 80 00", (95.0, 60.0, True), id="validated"),
    pytest.param(
        "03 5F 00 3C 00 EA 07 0B 19 08 1E 00 00 04", (95.0, 60.0, False), id="demonstration"
    ),
    pytest.param("04 5F 00 3C 00 02 00 00", (95.0, 60.0, False), id="malfunction"),
    pytest.param("F0 5F 00 3C 00", (95.0, 60.0, None), id="clock not set, reserved bits"),
]


@pytest.mark.parametrize(("payload", "expected"), CONTINUOUS)
def test_continuous(payload: str, expected: tuple[float | None, float | None, bool | None]) -> None:
    decoded = decode_continuous(bytes.fromhex(payload), 2.0, "finger")

    assert decoded == ArterialSample(2.0, "finger", *expected)


@pytest.mark.parametrize(("payload", "expected"), SPOT_CHECK)
def test_spot_check(payload: str, expected: tuple[float | None, float | None, bool | None]) -> None:
    decoded = decode_spot_check(bytes.fromhex(payload), 2.0, "finger")

    assert decoded == ArterialSample(2.0, "finger", *expected)


@pytest.mark.parametrize("bit", range(16))
def test_measurement_status_bits(bit: int) -> None:
    """10 demonstration, 11 testing, 12 calibrating, 13 unavailable, 14 questionable, 15 invalid."""
    payload = bytes.fromhex("04 62 00 48 00") + (1 << bit).to_bytes(2, "little")

    sample = decode_continuous(payload, 0.0, "")

    assert sample.trusted is (bit < 10)
    assert (sample.spo2_pct is None) is (bit in {13, 15})


@pytest.mark.parametrize("bit", range(24))
def test_sensor_status_bits(bit: int) -> None:
    """1 malfunction, 3 inadequate signal, 8 questionable pulse, 11 to 15 not fit to measure."""
    payload = bytes.fromhex("04 62 00 48 00") + (1 << bit).to_bytes(3, "little")

    sample = decode_spot_check(payload, 0.0, "")

    assert sample.trusted is (bit not in {1, 3, 8, 11, 12, 13, 14, 15})
    assert sample.spo2_pct == 98.0


@pytest.mark.parametrize(
    ("payload", "missing"),
    [
        ("", "flags"),
        ("00 62", "SpO2"),
        ("00 62 00 48", "pulse rate"),
        ("01 62 00 48 00 61 00", "pulse rate"),
        ("04 62 00 48 00 00", "measurement status"),
        ("08 62 00 48 00 00 08", "sensor status"),
    ],
)
def test_names_the_field_that_is_cut_off(payload: str, missing: str) -> None:
    with pytest.raises(DecodeError) as caught:
        decode_continuous(bytes.fromhex(payload), 0.0, "")

    assert caught.value.problem == f"ends before {missing}"


def test_a_cut_time_stamp_is_named() -> None:
    with pytest.raises(DecodeError) as caught:
        decode_spot_check(bytes.fromhex("01 5F 00 3C 00 EA 07"), 0.0, "")

    assert caught.value.problem == "ends before time stamp"


@pytest.mark.parametrize("decode", [decode_continuous, decode_spot_check])
@given(payload=st.binary(max_size=40))
def test_any_bytes_give_a_sample_or_a_rejection(decode: object, payload: bytes) -> None:
    assert callable(decode)
    try:
        sample = decode(payload, 0.0, "")
    except DecodeError:
        return

    assert sample.spo2_pct is None or 0 <= sample.spo2_pct <= 100
    assert sample.pulse_bpm is None or sample.pulse_bpm > 0
