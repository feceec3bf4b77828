"""Cycling speed, cadence and power, against the GATT Specification Supplement's field tables.

T1  tests of github.com/RonanB96/bluetooth-sig-python; own  by hand from the field tables.
"""

import pytest

from livemon.decode.counters import Revolutions
from livemon.decode.cycling import CyclingCounts, CyclingDecoder, decode_counts
from livemon.decode.cycling_power import CyclingPowerDecoder, PowerMeasurement, decode_power
from livemon.decode.samples import IntensitySample, IntensitySource
from livemon.errors import DecodeError

POWER = [
    pytest.param("00 00 FA 00", PowerMeasurement(250, None, None, None, None), id="T1 alone"),
    pytest.param("01 00 2C 01 64", PowerMeasurement(300, 50.0, None, None, None), id="T1 balance"),
    pytest.param("00 08 40 01 0A 00", PowerMeasurement(320, None, None, None, 10), id="T1 energy"),
    pytest.param(
        "20 00 70 01 90 01 00 04",
        PowerMeasurement(368, None, None, Revolutions(400, 1024), None),
        id="T1 crank at 1.0 s",
    ),
    pytest.param(
        "10 00 4B 01 39 30 00 00 00 08",
        PowerMeasurement(331, None, Revolutions(12345, 2048), None, None),
        id="T1 wheel at 1.0 s",
    ),
    pytest.param(
        "31 08 94 01 6E 39 30 00 00 00 10 90 01 00 08 15 00",
        PowerMeasurement(404, 55.0, Revolutions(12345, 4096), Revolutions(400, 2048), 21),
        id="T1 wheel and crank at 2.0 s",
    ),
    pytest.param(
        "24 00 2C 01 34 12 90 01 00 08",
        PowerMeasurement(300, None, None, Revolutions(400, 2048), None),
        id="own torque before the crank",
    ),
    pytest.param("00 00 F6 FF", PowerMeasurement(-10, None, None, None, None), id="own below 0"),
    pytest.param(
        "CA F7 FA 00" + " 00" * 4 + " 00" * 4 + " BC 3A 12" + " 00" * 4,
        PowerMeasurement(250, None, None, None, None),
        id="own bits 1, 3, 12 and reserved ones add nothing; forces to dead spots are skipped",
    ),
]


@pytest.mark.parametrize(("payload", "expected"), POWER)
def test_power(payload: str, expected: PowerMeasurement) -> None:
    assert decode_power(bytes.fromhex(payload)) == expected


@pytest.mark.parametrize(
    ("payload", "missing"),
    [
        ("00", "flags"),
        ("00 00 FA", "power"),
        ("01 00 2C 01", "pedal balance"),
        ("04 00 2C 01 00", "accumulated torque"),
        ("10 00 4B 01 39 30 00", "wheel revolutions"),
        ("10 00 4B 01 39 30 00 00 00", "wheel event time"),
        ("20 00 70 01 90", "crank revolutions"),
        ("20 00 70 01 90 01 00", "crank event time"),
        ("40 00 70 01 00 00 00", "extreme forces"),
        ("80 00 70 01 00 00 00", "extreme torques"),
        ("00 01 70 01 BC 3A", "extreme angles"),
        ("00 02 70 01 00", "top dead spot"),
        ("00 04 70 01 00", "bottom dead spot"),
        ("00 08 40 01 0A", "accumulated energy"),
    ],
)
def test_power_names_the_field_that_is_cut_off(payload: str, missing: str) -> None:
    with pytest.raises(DecodeError) as caught:
        decode_power(bytes.fromhex(payload))

    assert caught.value.problem == f"ends before {missing}"


def test_power_meter_gives_cadence_and_speed_from_the_second_packet_on() -> None:
    """Crank 2 revolutions in 1 s is 120/min; wheel 4 in 1 s, 2 m each, is 8 m/s."""
    decoder = CyclingPowerDecoder(wheel_m=2.0)
    first = "30 00 FA 00 00 00 00 00 00 00 FF FF E8 FD"
    second = "30 00 FB 00 04 00 00 00 00 08 01 00 E8 01"

    assert decoder.decode(bytes.fromhex(first), 1.0, "crank") == (
        IntensitySample(1.0, "crank", IntensitySource.CYCLING, power_w=250.0),
    )
    assert decoder.decode(bytes.fromhex(second), 2.0, "crank") == (
        IntensitySample(
            2.0,
            "crank",
            IntensitySource.CYCLING,
            power_w=251.0,
            speed_m_per_s=8.0,
            cadence_per_min=120.0,
        ),
    )


@pytest.mark.parametrize(
    ("payload", "expected"),
    [
        ("00", CyclingCounts(None, None)),
        ("01 39 30 00 00 00 08", CyclingCounts(Revolutions(12345, 2048), None)),
        ("02 90 01 00 04", CyclingCounts(None, Revolutions(400, 1024))),
        (
            "FF 39 30 00 00 00 08 90 01 00 04",
            CyclingCounts(Revolutions(12345, 2048), Revolutions(400, 1024)),
        ),
    ],
)
def test_counts(payload: str, expected: CyclingCounts) -> None:
    assert decode_counts(bytes.fromhex(payload)) == expected


def test_a_speed_sensor_ticks_in_1024ths() -> None:
    """Wheel 4 revolutions in 1 s; without the wheel's size there is no speed."""
    first, second = "01 00 00 00 00 00 00", "01 04 00 00 00 00 04"
    with_size, without = CyclingDecoder(wheel_m=2.1), CyclingDecoder()

    for decoder in (with_size, without):
        decoder.decode(bytes.fromhex(first), 1.0, "wheel")
    (fast,) = with_size.decode(bytes.fromhex(second), 2.0, "wheel")
    (unknown,) = without.decode(bytes.fromhex(second), 2.0, "wheel")

    assert fast.speed_m_per_s == pytest.approx(8.4)
    assert unknown.speed_m_per_s is None
    assert fast.cadence_per_min is None


def test_a_cadence_sensor_gives_revolutions_a_minute() -> None:
    """2 revolutions in 1024 ticks of 1/1024 s."""
    decoder = CyclingDecoder()

    decoder.decode(bytes.fromhex("02 00 00 00 00"), 1.0, "crank")
    (turning,) = decoder.decode(bytes.fromhex("02 02 00 00 04"), 2.0, "crank")

    assert turning.cadence_per_min == 120.0
