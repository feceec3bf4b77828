"""A fitness machine's pieces become records, and records become samples.

Packets by hand from the SIG's field tables.
"""

import pytest

from livemon.decode.fitness_machine import MachineDecoder
from livemon.decode.machine_fields import INDOOR_BIKE, ROWER, TREADMILL
from livemon.decode.samples import IntensitySample, IntensitySource


def bike(*pieces: tuple[float, str]) -> list[tuple[IntensitySample, ...]]:
    decoder = MachineDecoder(INDOOR_BIKE)
    return [decoder.decode(bytes.fromhex(payload), t_s, "bike") for t_s, payload in pieces]


POWER_TO_COME = "41 00 C8 00"
SPEED_CLOSES = "00 00 C4 09"


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


def test_a_piece_counts_for_two_seconds_from_when_it_came() -> None:
    kept = bike((11.0, POWER_TO_COME), (13.0, SPEED_CLOSES))[-1]
    dropped = bike((11.0, POWER_TO_COME), (12.5, "05 00 B4 00"), (13.1, SPEED_CLOSES))[-1]

    assert (kept[0].power_w, kept[0].cadence_per_min) == (200.0, None)
    assert (dropped[0].power_w, dropped[0].cadence_per_min) == (None, None)


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
