"""Fitness machine records, against byte strings published elsewhere.

T1   tests of github.com/RonanB96/bluetooth-sig-python
Q&A  a packet that somebody asked about in public, who had missed the inverted bit
article  a rower's packet in a public developer article
own  by hand from the SIG's field tables
"""

import pytest

from livemon.decode.fitness_machine import decode_piece
from livemon.decode.machine_fields import (
    CROSS_TRAINER,
    INDOOR_BIKE,
    ROWER,
    TREADMILL,
    Machine,
)
from livemon.errors import DecodeError

MACHINES = (TREADMILL, CROSS_TRAINER, ROWER, INDOOR_BIKE)
VECTORS = [
    pytest.param(
        INDOOR_BIKE,
        "44 02 9C 09 5C 00 4F 00 50",
        {"speed_m_per_s": 24.60 / 3.6, "cadence_per_min": 46, "power_w": 79, "bpm": 80},
        id="Q&A bike",
    ),
    pytest.param(
        INDOOR_BIKE,
        "04 02 C4 09 B4 00 9B",
        {"speed_m_per_s": 25.0 / 3.6, "cadence_per_min": 90, "bpm": 155},
        id="T1 bike",
    ),
    pytest.param(INDOOR_BIKE, "01 00", {}, id="T1 bike with nothing yet"),
    pytest.param(INDOOR_BIKE, "41 00 C8 00", {"power_w": 200}, id="own bike with power alone"),
    pytest.param(
        ROWER,
        "7E 19 00 27 00 D6 9C 00 00 00 00 61 00 00 00 E4 00 0D 00 00 00 00 24 00 00 00",
        {
            "cadence_per_min": 0,
            "strokes": 39,
            "average_cadence_per_min": 107,
            "distance_m": 156,
            "pace_s_per_500_m": 0,
            "average_pace_s_per_500_m": 97,
            "power_w": 0,
            "average_power_w": 228,
            "energy_kcal": 13,
            "energy_kcal_per_h": 0,
            "energy_kcal_per_min": 0,
            "elapsed_s": 36,
            "remaining_s": 0,
        },
        id="article rower",
    ),
    pytest.param(
        ROWER,
        "00 02 3C 96 00 8C",
        {"cadence_per_min": 30, "strokes": 150, "bpm": 140},
        id="T1 rower",
    ),
    pytest.param(
        TREADMILL,
        "02 01 E2 04 B0 04 9B",
        {"speed_m_per_s": 12.5 / 3.6, "average_speed_m_per_s": 12 / 3.6, "bpm": 155},
        id="T1 treadmill",
    ),
    pytest.param(
        TREADMILL,
        "09 10 F6 FF 00 00 64 00 2C 01",
        {"incline_pct": -1.0, "ramp_degrees": 0.0, "force_n": 100, "power_w": 300},
        id="own treadmill, downhill",
    ),
    pytest.param(
        TREADMILL,
        "61 10 02 03 9C FF C8 00",
        {
            "pace_km_per_min": 0.2,
            "average_pace_km_per_min": 0.3,
            "force_n": -100,
            "power_w": 200,
        },
        id="own treadmill of the first edition, pulled",
    ),
    pytest.param(
        TREADMILL,
        "FE 1F E2 04 B0 04 E8 03 00 0A 00 14 00 0F 00 05 00 2C 01 2D 01 "
        "0D 00 E8 03 0B 8C 08 24 00 25 00 64 00 2C 01",
        {
            "speed_m_per_s": 12.5 / 3.6,
            "average_speed_m_per_s": 12 / 3.6,
            "distance_m": 1000,
            "incline_pct": 1.0,
            "ramp_degrees": 2.0,
            "climb_m": 1.5,
            "descent_m": 0.5,
            "pace_s_per_500_m": 300,
            "average_pace_s_per_500_m": 301,
            "energy_kcal": 13,
            "energy_kcal_per_h": 1000,
            "energy_kcal_per_min": 11,
            "bpm": 140,
            "met": 8,
            "elapsed_s": 36,
            "remaining_s": 37,
            "force_n": 100,
            "power_w": 300,
        },
        id="own treadmill with all its fields",
    ),
    pytest.param(
        INDOOR_BIKE,
        "BB 1D B0 04 B6 00 E8 03 00 05 D2 00 0D 00 FF FF FF 55 24 00 25 00",
        {
            "average_speed_m_per_s": 12 / 3.6,
            "average_cadence_per_min": 91,
            "distance_m": 1000,
            "resistance": 5,
            "average_power_w": 210,
            "met": 8.5,
            "elapsed_s": 36,
            "remaining_s": 37,
        }
        | {"energy_kcal": 13, "energy_kcal_per_h": None, "energy_kcal_per_min": None},
        id="own bike with all that the others lack",
    ),
    pytest.param(
        INDOOR_BIKE,
        "E1 01 FB FF CE FF C4 FF FF FF FF FF FF",
        {"resistance": -5, "power_w": -50, "average_power_w": -60}
        | {"energy_kcal": None, "energy_kcal_per_h": None, "energy_kcal_per_min": None},
        id="own bike of the first edition, below 0 and not available",
    ),
    pytest.param(
        CROSS_TRAINER,
        "41 00 00 F6 FF EC FF",
        {"incline_pct": -1.0, "ramp_degrees": -2.0},
        id="own cross trainer, downhill",
    ),
    pytest.param(
        CROSS_TRAINER,
        "41 00 00 FF 7F FF 7F",
        {"incline_pct": None, "ramp_degrees": None},
        id="own cross trainer without an incline",
    ),
    pytest.param(
        CROSS_TRAINER,
        "E3 72 00 B0 04 0F 00 05 00 0A 00 14 00 05 D2 00 55 24 00 25 00",
        {
            "average_speed_m_per_s": 12 / 3.6,
            "climb_m": 15,
            "descent_m": 5,
            "incline_pct": 1.0,
            "ramp_degrees": 2.0,
            "resistance": 5,
            "average_power_w": 210,
            "met": 8.5,
            "elapsed_s": 36,
            "remaining_s": 37,
        },
        id="own cross trainer with all that the others lack",
    ),
    pytest.param(
        CROSS_TRAINER,
        "00 88 00 DC 05 A0",
        {"speed_m_per_s": 15 / 3.6, "bpm": 160},
        id="T1 cross trainer, backward",
    ),
    pytest.param(
        CROSS_TRAINER,
        "1C 05 00 E8 03 B8 0B 00 78 00 73 00 F4 01 C8 00 2C 01 90 01 07",
        {
            "speed_m_per_s": 10 / 3.6,
            "distance_m": 3000,
            "cadence_per_min": 120,
            "average_cadence_per_min": 115,
            "strides": 50.0,
            "power_w": 200,
            "energy_kcal": 300,
            "energy_kcal_per_h": 400,
            "energy_kcal_per_min": 7,
        },
        id="T1 cross trainer",
    ),
]


@pytest.mark.parametrize(("machine", "payload", "expected"), VECTORS)
def test_reads_every_field(machine: Machine, payload: str, expected: dict[str, float]) -> None:
    piece = decode_piece(machine, bytes.fromhex(payload))

    assert dict(piece.values) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("machine", "flags", "today", "first_edition"),
    [
        pytest.param(INDOOR_BIKE, "61 00", "05 C8 00", "05 00 C8 00", id="bike resistance"),
        pytest.param(ROWER, "A1 00", "C8 00 05", "C8 00 05 00", id="rower resistance"),
        pytest.param(CROSS_TRAINER, "81 01 00", "05 C8 00", "05 00 C8 00", id="cross trainer"),
        pytest.param(
            TREADMILL, "61 10", "2C 01 2D 01 64 00 C8 00", "02 03 64 00 C8 00", id="treadmill pace"
        ),
    ],
)
def test_the_length_tells_the_edition(
    machine: Machine, flags: str, today: str, first_edition: str
) -> None:
    for rest in (today, first_edition):
        piece = decode_piece(machine, bytes.fromhex(flags + rest))
        assert piece.values["power_w"] == 200


@pytest.mark.parametrize("machine", MACHINES, ids=lambda machine: machine.source.value)
def test_every_bit_up_to_the_last_brings_a_field(machine: Machine) -> None:
    """As the SIG's field tables have it: 0 to 12, of the cross trainer to 14."""
    last = 14 if machine is CROSS_TRAINER else 12

    assert [row.bit for row in machine.rows] == [*range(last + 1)]


def full(machine: Machine, *, edition_2017: bool) -> int:
    parts = [part for row in machine.rows for part in row.of(edition_2017=edition_2017)]
    return machine.flag_octets + sum(part.octets for part in parts)


def test_a_full_record_of_bike_or_rower_is_29_or_30_octets() -> None:
    """Counted by hand in both editions' field tables."""
    assert full(ROWER, edition_2017=False) == 29
    assert full(ROWER, edition_2017=True) == 30
    assert full(INDOOR_BIKE, edition_2017=False) == 29
    assert full(INDOOR_BIKE, edition_2017=True) == 30


@pytest.mark.parametrize("machine", MACHINES, ids=lambda machine: machine.source.value)
@pytest.mark.parametrize("edition_2017", [False, True])
def test_a_full_record_is_read_and_no_other_length(machine: Machine, *, edition_2017: bool) -> None:
    length = full(machine, edition_2017=edition_2017)
    flags = ((1 << machine.rows[-1].bit + 1) - 2).to_bytes(machine.flag_octets, "little")
    payload = flags + bytes(length - len(flags))

    assert not decode_piece(machine, payload).more
    for size in range(length):
        if size not in {full(machine, edition_2017=False), full(machine, edition_2017=True)}:
            with pytest.raises(DecodeError):
                decode_piece(machine, payload[:size])


@pytest.mark.parametrize(
    ("machine", "bit", "first"),
    [
        (TREADMILL, 3, "incline_pct"),
        (TREADMILL, 4, "climb_m"),
        (TREADMILL, 12, "force_n"),
        (CROSS_TRAINER, 3, "cadence_per_min"),
        (CROSS_TRAINER, 5, "climb_m"),
        (CROSS_TRAINER, 6, "incline_pct"),
        (CROSS_TRAINER, 8, "power_w"),
        (CROSS_TRAINER, 9, "average_power_w"),
        (ROWER, 3, "pace_s_per_500_m"),
        (ROWER, 5, "power_w"),
        (ROWER, 6, "average_power_w"),
        (INDOOR_BIKE, 2, "cadence_per_min"),
        (INDOOR_BIKE, 6, "power_w"),
        (INDOOR_BIKE, 7, "average_power_w"),
    ],
)
def test_each_bit_brings_its_own_field(machine: Machine, bit: int, first: str) -> None:
    """Fields of one size, which a length can't tell apart; bits from the SIG's field tables."""
    (row,) = [row for row in machine.rows if row.bit == bit]
    flags = (1 | 1 << bit).to_bytes(machine.flag_octets, "little")
    payload = flags + bytes(sum(part.octets for part in row.parts))

    assert next(iter(decode_piece(machine, payload).values)) == first


def test_a_wrong_length_names_both_that_would_do() -> None:
    with pytest.raises(DecodeError) as caught:
        decode_piece(INDOOR_BIKE, bytes.fromhex("61 00 05"))

    assert caught.value.problem == "3 octets, expected 5 or 6"
