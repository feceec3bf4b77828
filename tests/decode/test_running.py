"""Running speed and cadence, against the GATT Specification Supplement's field table.

T1  tests of github.com/RonanB96/bluetooth-sig-python; own  by hand from the field table.
"""

import pytest

from livemon.decode.running import decode_running
from livemon.decode.samples import IntensitySample, IntensitySource
from livemon.errors import DecodeError


@pytest.mark.parametrize(
    ("payload", "speed_m_per_s", "cadence", "distance_m"),
    [
        pytest.param("00 80 02 B4", 2.5, 180.0, None, id="T1 walking, no more"),
        pytest.param("01 80 02 B4 55 00", 2.5, 180.0, None, id="T1 stride of 0.85 m"),
        pytest.param("03 80 02 B4 55 00 10 27 00 00", 2.5, 180.0, 1000.0, id="T1 all"),
        pytest.param("07 80 03 B2 6E 00 10 27 00 00", 3.5, 178.0, 1000.0, id="own running"),
        pytest.param("02 80 02 B4 10 27 00 00", 2.5, 180.0, 1000.0, id="own distance alone"),
        pytest.param("F8 00 00 00", 0.0, 0.0, None, id="own reserved bits; standing is 0"),
    ],
)
def test_decodes(
    payload: str, speed_m_per_s: float, cadence: float, distance_m: float | None
) -> None:
    assert decode_running(bytes.fromhex(payload), 4.0, "foot") == IntensitySample(
        4.0,
        "foot",
        IntensitySource.RUNNING,
        speed_m_per_s=speed_m_per_s,
        cadence_per_min=cadence,
        distance_m=distance_m,
    )


@pytest.mark.parametrize(
    ("payload", "missing"),
    [
        ("", "flags"),
        ("00 80", "speed"),
        ("00 80 02", "cadence"),
        ("01 80 02 B4 55", "stride length"),
        ("02 80 02 B4 10 27 00", "total distance"),
    ],
)
def test_names_the_field_that_is_cut_off(payload: str, missing: str) -> None:
    with pytest.raises(DecodeError) as caught:
        decode_running(bytes.fromhex(payload), 0.0, "")

    assert caught.value.problem == f"ends before {missing}"
