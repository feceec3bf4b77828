"""Which intensity samples are used: plausible ones, in order, of one sensor for each quantity."""

from itertools import pairwise
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from livemon.decode.samples import IntensitySample, IntensitySource
from livemon.series.effort import GIVES_WAY_US, Effort, EffortGate

RUNNING = IntensitySource.RUNNING


def speed(sensor: str, m_per_s: float) -> IntensitySample:
    return IntensitySample(0.0, sensor, RUNNING, speed_m_per_s=m_per_s)


def fed(*samples: tuple[int, IntensitySample]) -> list[list[tuple[Effort, float]]]:
    gate = EffortGate()
    return [list(gate.admitted(t_us, sample)) for t_us, sample in samples]


def test_a_sample_gives_each_quantity_that_it_knows() -> None:
    sample = IntensitySample(
        0.0, "bike", RUNNING, power_w=210.0, speed_m_per_s=8.5, cadence_per_min=88.0,
        distance_m=120.0, incline_pct=-1.5,
    )  # fmt: skip

    assert fed((0, sample)) == [
        [
            (Effort.POWER, 210.0),
            (Effort.SPEED, 8.5),
            (Effort.CADENCE, 88.0),
            (Effort.DISTANCE, 120.0),
            (Effort.INCLINE, -1.5),
        ]
    ]


def test_a_second_sensor_waits_until_the_first_is_silent() -> None:
    took = fed(
        (0, speed("foot", 3.0)),
        (1_000_000, speed("belt", 3.4)),
        (4_999_999, speed("belt", 3.5)),
        (5_000_000, speed("belt", 3.6)),
        (5_000_001, speed("foot", 3.1)),
    )

    assert [bool(used) for used in took] == [True, False, False, True, False]


def test_another_quantity_may_come_from_another_sensor() -> None:
    power = IntensitySample(0.0, "meter", RUNNING, power_w=250.0)

    assert fed((0, speed("foot", 3.0)), (1, power))[1] == [(Effort.POWER, 250.0)]


def test_what_comes_late_is_left_out() -> None:
    assert fed((2_000_000, speed("foot", 3.0)), (1_999_999, speed("foot", 3.1)))[1] == []


@pytest.mark.parametrize("m_per_s", [-0.1, 30.1, nan, inf])
def test_what_no_body_does_is_left_out_and_hands_nothing_over(m_per_s: float) -> None:
    assert fed((0, speed("foot", m_per_s)), (1, speed("belt", 3.0))) == [[], [(Effort.SPEED, 3.0)]]


def test_a_sensor_that_waits_with_one_quantity_is_used_for_another() -> None:
    both = IntensitySample(0.0, "belt", RUNNING, speed_m_per_s=3.4, distance_m=10.0)

    assert fed((0, speed("foot", 3.0)), (1, both))[1] == [(Effort.DISTANCE, 10.0)]


@pytest.mark.parametrize(
    ("effort", "low", "high"),
    [
        (Effort.POWER, -500.0, 4000.0),
        (Effort.SPEED, 0.0, 30.0),
        (Effort.CADENCE, 0.0, 300.0),
        (Effort.DISTANCE, 0.0, 1e7),
        (Effort.INCLINE, -50.0, 50.0),
    ],
)
def test_each_quantity_has_its_limits(effort: Effort, low: float, high: float) -> None:
    for value, is_used in ((low - 0.1, False), (low, True), (high, True), (high + 0.1, False)):
        sample = IntensitySample(0.0, "bike", RUNNING, **{effort.value: value})
        assert fed((0, sample)) == [[(effort, value)] if is_used else []]


def test_damage_to_one_quantity_leaves_the_others() -> None:
    sample = IntensitySample(0.0, "bike", RUNNING, power_w=4001.0, speed_m_per_s=8.5)

    assert fed((0, sample)) == [[(Effort.SPEED, 8.5)]]


@given(
    st.lists(
        st.tuples(st.integers(0, 60_000_000), st.sampled_from(["a", "b"]), st.floats()),
        max_size=40,
    )
)
def test_used_values_are_in_order_and_never_mixed_within_the_wait(
    fed_in: list[tuple[int, str, float]],
) -> None:
    gate, used = EffortGate(), []
    for t_us, sensor, value in fed_in:
        used += [(t_us, sensor) for _ in gate.admitted(t_us, speed(sensor, value))]

    for (t0, a), (t1, b) in pairwise(used):
        assert t1 >= t0
        assert a == b or t1 - t0 >= GIVES_WAY_US
