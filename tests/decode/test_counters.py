"""Rates from running counts: right across every roll-over, and silent where they can't be."""

import itertools
from struct import pack

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.decode.counters import (
    CRANK,
    POWER_WHEEL,
    SPEED_WHEEL,
    CounterKind,
    RevolutionRate,
    Revolutions,
)
from livemon.decode.cycling import CyclingDecoder
from livemon.decode.cycling_power import CyclingPowerDecoder


def rates(kind: CounterKind, *packets: tuple[float, int, int]) -> list[float | None]:
    """Feed packets of (arrival, count, event) and return each answer."""
    rate = RevolutionRate(kind)
    return [rate.update(Revolutions(count, event), t_s) for t_s, count, event in packets]


def test_the_worked_example_across_both_roll_overs() -> None:
    """(65535, 65000) to (1, 488): 2 revolutions in 1024 ticks of 1/1024 s, which is 120/min."""
    assert rates(CRANK, (0.0, 65535, 65000), (1.0, 1, 488)) == [None, 2.0]


def test_a_power_meter_counts_the_wheel_in_half_the_ticks() -> None:
    assert rates(POWER_WHEEL, (0.0, 0, 0), (1.0, 4, 2048)) == [None, 4.0]
    assert rates(SPEED_WHEEL, (0.0, 0, 0), (1.0, 4, 1024)) == [None, 4.0]


def test_coasting_holds_for_a_while_and_then_stands() -> None:
    packets = [(0.0, 10, 0), (1.0, 12, 1024), (2.0, 12, 1024), (3.9, 12, 1024), (4.0, 12, 1024)]

    assert rates(CRANK, *packets) == [None, 2.0, 2.0, 2.0, 0.0]


def test_standing_from_the_start_becomes_0() -> None:
    assert rates(CRANK, (0.0, 7, 7), (2.9, 7, 7), (3.0, 7, 7)) == [None, None, 0.0]


@pytest.mark.parametrize(("kind", "round_s"), [(CRANK, 64.0), (POWER_WHEEL, 32.0)])
def test_after_a_whole_round_of_the_clock_the_first_difference_is_dropped(
    kind: CounterKind, round_s: float
) -> None:
    start, step = (0.0, 0, 0), kind.ticks_per_s
    before, after = round_s - 0.1, round_s + 0.1

    assert rates(kind, start, (before, 1, step))[1] == 1.0
    assert rates(kind, start, (after, 1, step), (after + 1, 2, 2 * step))[1:] == [None, 1.0]


@pytest.mark.parametrize(("kind", "fastest"), [(CRANK, 5), (SPEED_WHEEL, 25), (POWER_WHEEL, 25)])
def test_the_fastest_that_can_be_meant_is_believed_and_no_more(
    kind: CounterKind, fastest: int
) -> None:
    """300/min, and 50 m/s on a road wheel of 2 m; common practice, no source."""
    start, a_second = (0.0, 0, 0), kind.ticks_per_s

    assert rates(kind, start, (1.0, fastest, a_second))[1] == fastest
    assert rates(kind, start, (1.0, fastest + 1, a_second))[1] is None


def test_a_difference_over_just_one_round_of_the_clock_is_dropped() -> None:
    assert rates(CRANK, (0.0, 0, 0), (64.0, 1, 1024))[1] is None


def test_a_round_spent_standing_counts_as_well() -> None:
    """Packets went on, but the clock of events stood: it may have gone round."""
    packets = [(0.0, 0, 0), (1.0, 1, 1024), *((float(t), 1, 1024) for t in range(2, 70))]

    assert rates(CRANK, *packets, (70.0, 2, 2048))[-1] is None


@pytest.mark.parametrize(
    "packet",
    [
        pytest.param((1.0, 3, 100), id="switched off: the count began afresh"),
        pytest.param((1.0, 1006, 1024), id="6 revolutions a second can't be"),
        pytest.param((1.0, 1001, 0), id="a revolution in no time"),
    ],
)
def test_what_can_not_be_gives_no_rate(packet: tuple[float, int, int]) -> None:
    assert rates(CRANK, (0.0, 1000, 0), packet)[1] is None


def bicycle_packet(kind: CounterKind, count: int, event: int) -> bytes:
    """Say it as the sensor would.

    Source: GATT Specification Supplement, "CSC Measurement" and "Cycling Power Measurement".
    """
    if kind is SPEED_WHEEL:
        return pack("<BIH", 1, count, event)
    return pack("<HhIH", 1 << 4, 250, count, event)


#: By counter: where its count and its clock begin again, and how fast the clock runs.
KINDS = [(CRANK, 1 << 16, 1024), (SPEED_WHEEL, 1 << 32, 1024), (POWER_WHEEL, 1 << 32, 2048)]
Steps = list[tuple[int, int]]
rides = st.lists(st.tuples(st.integers(0, 60), st.integers(1, 60_000)), min_size=1, max_size=30)


def ridden(
    kind: CounterKind, back: tuple[int, int], steps: Steps
) -> tuple[list[tuple[float, int, int]], list[float | None]]:
    """Return packets that begin so far before both roll-overs, and rates without any modulo."""
    _, modulo, ticks_per_s = next(one for one in KINDS if one[0] is kind)
    count, event, t_s = modulo - back[0], (1 << 16) - back[1], 0.0
    packets, unrolled = [(t_s, count % modulo, event % (1 << 16))], [(count, event)]
    for turns, ticks in steps:
        t_s, count, event = t_s + ticks / ticks_per_s, count + turns, event + ticks
        packets.append((t_s, count % modulo, event % (1 << 16)))
        unrolled.append((count, event))
    expected: list[float | None] = [None]
    for (c0, e0), (c1, e1) in itertools.pairwise(unrolled):
        per_s = (c1 - c0) * ticks_per_s / (e1 - e0)
        expected.append(per_s if per_s <= kind.fastest_per_s else None)
    return packets, expected


@pytest.mark.parametrize("kind", [one[0] for one in KINDS], ids=["crank", "speed", "power"])
@example(back=(1, 1), steps=[(5, 1024)])
@example(back=(2, 1023), steps=[(1, 1023), (1, 1), (0, 1)])
@example(back=(1, 1), steps=[(1, 1), (25, 1024), (50, 2048)])
@example(back=(0, 0), steps=[(0, 1)])
@given(back=st.tuples(st.integers(0, 200), st.integers(0, 65536)), steps=rides)
def test_modulo_makes_no_difference(kind: CounterKind, back: tuple[int, int], steps: Steps) -> None:
    """The same ride, with counters that never roll over, gives the same rates."""
    packets, expected = ridden(kind, back, steps)

    assert rates(kind, *packets) == expected


@pytest.mark.parametrize("kind", [SPEED_WHEEL, POWER_WHEEL], ids=["speed sensor", "power meter"])
@example(back=(1, 1), steps=[(8, 2048), (8, 2048)])
@example(back=(0, 0), steps=[((1 << 16) + 1, 1024)])  # not 1: all 32 bits count
@example(back=(0, 0), steps=[((1 << 31) + 1, 1024)])
@given(back=st.tuples(st.integers(0, 200), st.integers(0, 65536)), steps=rides)
def test_a_wheel_rolls_on_through_both_roll_overs_of_its_packets(
    kind: CounterKind, back: tuple[int, int], steps: Steps
) -> None:
    """From octets to m/s: 32 bits of revolutions and 16 bits of time, whichever sensor it is."""
    packets, expected = ridden(kind, back, steps)
    decoder = CyclingDecoder(2.0) if kind is SPEED_WHEEL else CyclingPowerDecoder(2.0)

    speeds = []
    for t_s, count, event in packets:
        (sample,) = decoder.decode(bicycle_packet(kind, count, event), t_s, "wheel")
        speeds.append(sample.speed_m_per_s)

    assert speeds == [None if per_s is None else per_s * 2.0 for per_s in expected]
