"""Fitness machine records, against byte strings published elsewhere.

T1   tests of github.com/RonanB96/bluetooth-sig-python
Q&A  a packet that somebody asked about in public, who had missed the inverted bit
article  a rower's packet in a public developer article
own  by hand from the SIG's field tables
"""

import pytest

from livemon.decode.fitness_machine import MachineDecoder, decode_piece
from livemon.decode.machine_fields import (
    CROSS_TRAINER,
    INDOOR_BIKE,
    MACHINES,
    ROWER,
    TREADMILL,
    Machine,
)
from livemon.decode.samples import IntensitySample, IntensitySource
from livemon.errors import DecodeError

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


def full(machine: Machine, *, edition_2017: bool) -> int:
    parts = [part for row in machine.rows for part in row.of(edition_2017=edition_2017)]
    return machine.flag_octets + sum(part.octets for part in parts)


def test_a_full_bike_record_is_29_or_30_octets() -> None:
    """Counted by hand in both editions' field tables."""
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


def test_a_wrong_length_names_both_that_would_do() -> None:
    with pytest.raises(DecodeError) as caught:
        decode_piece(INDOOR_BIKE, bytes.fromhex("61 00 05"))

    assert caught.value.problem == "3 octets, expected 5 or 6"


def bike(*pieces: tuple[float, str]) -> list[tuple[IntensitySample, ...]]:
    decoder = MachineDecoder(INDOOR_BIKE)
    return [decoder.decode(bytes.fromhex(payload), t_s, "bike") for t_s, payload in pieces]


POWER_TO_COME = "41 00 C8 00"
SPEED_CLOSES = "00 00 C4 09"
SPEED_ALONE = IntensitySample(
    1.1, "bike", IntensitySource.INDOOR_BIKE, speed_m_per_s=pytest.approx(25 / 3.6)
)


def test_a_split_record_gives_one_sample() -> None:
    nothing, (sample,) = bike((1.0, POWER_TO_COME), (1.1, SPEED_CLOSES))

    assert nothing == ()
    assert sample == IntensitySample(
        1.1,
        "bike",
        IntensitySource.INDOOR_BIKE,
        power_w=200.0,
        speed_m_per_s=pytest.approx(25 / 3.6),
    )


def test_a_piece_whose_rest_never_came_is_not_mixed_into_a_later_record() -> None:
    _, (sample,) = bike((1.0, POWER_TO_COME), (3.1, SPEED_CLOSES))

    assert sample.power_w is None


def test_a_field_that_comes_again_begins_a_new_record() -> None:
    _, _, (sample,) = bike((1.0, POWER_TO_COME), (1.5, "41 00 64 00"), (1.6, SPEED_CLOSES))

    assert sample.power_w == 100.0


def test_a_closed_record_leaves_nothing_behind() -> None:
    _, _, (sample,) = bike((1.0, POWER_TO_COME), (1.1, SPEED_CLOSES), (1.2, SPEED_CLOSES))

    assert sample.power_w is None


def test_a_rower_has_its_speed_from_the_pace() -> None:
    """500 m in 125 s is 4 m/s; a pace of 0 is a rower at rest."""
    decoder = MachineDecoder(ROWER)

    (rowing,) = decoder.decode(bytes.fromhex("08 00 3C 96 00 7D 00"), 1.0, "rower")
    (resting,) = decoder.decode(bytes.fromhex("08 00 00 96 00 00 00"), 2.0, "rower")

    assert (rowing.speed_m_per_s, rowing.cadence_per_min) == (4.0, 30.0)
    assert resting.speed_m_per_s is None


def test_what_is_not_available_is_not_known() -> None:
    """0x7FFF for inclination and power, 0 for a heart rate (the former from memory of FTMS)."""
    decoder = MachineDecoder(TREADMILL)

    (sample,) = decoder.decode(
        bytes.fromhex("08 11 E2 04 FF 7F FF 7F 00 FF 7F FF 7F"), 1.0, "treadmill"
    )

    assert (sample.incline_pct, sample.power_w, sample.bpm) == (None, None, None)
    assert sample.speed_m_per_s == pytest.approx(12.5 / 3.6)
