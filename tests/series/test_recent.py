"""Readings that come in bursts find the seconds they belong to."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.series.bins import BRIDGE_S
from livemon.series.recent import Recent

SECOND_US = 1_000_000


def closed(recent: Recent, second: int, *readings: tuple[float, float, float | None]) -> object:
    """Close `second` after readings of (arrival s, seconds after the last one, value)."""
    for t_s, after_s, value in readings:
        recent.add(round(t_s * SECOND_US), round(after_s * SECOND_US), value)
    return recent.close(second)


def test_readings_on_time_are_the_mean_of_their_second() -> None:
    recent = Recent()

    assert closed(recent, 0, (0.2, 0.0, 60.0), (0.7, 0.5, 62.0)) == (61.0,)
    assert closed(recent, 1) == (None,)
    assert closed(recent, 2, (2.1, 1.4, 63.0)) == (63.0,)


def test_a_burst_fills_the_seconds_that_were_empty() -> None:
    recent = Recent()
    closed(recent, 0, (0.5, 0.0, 60.0))
    closed(recent, 1)
    closed(recent, 2)

    assert closed(recent, 3, (3.5, 1.0, 61.0), (3.5, 1.0, 62.0), (3.5, 1.0, 63.0)) == (61, 62, 63)


@pytest.mark.parametrize(("at_s", "values"), [(3.0, (61.0,)), (3.01, (60.0, 62.0))])
def test_readings_at_half_their_spacing_count_as_prompt_and_nearer_ones_as_held_back(
    at_s: float, values: tuple[float, ...]
) -> None:
    recent = Recent()
    closed(recent, 0, (0.5, 0.0, 60.0))

    assert closed(recent, 3, (at_s, 1.0, 60.0), (3.5, 1.0, 62.0)) == values


def test_a_second_that_was_told_stays_as_it_is() -> None:
    """The reading that is dated into it counts for the next one."""
    recent = Recent()
    closed(recent, 0, (0.9, 0.0, 60.0))

    assert closed(recent, 1, (1.0, 0.1, 61.0), (1.0, 0.8, 63.0)) == (62.0,)


def test_a_burst_may_end_in_a_second_that_stays_empty() -> None:
    """The last packet of the burst had no reading, but dates the others."""
    recent = Recent()
    closed(recent, 0, (0.5, 0.0, 60.0))
    closed(recent, 1)

    assert closed(recent, 2, (2.5, 1.0, 61.0), (2.5, 1.0, None)) == (61.0, None)
    assert closed(recent, 3, (3.5, 1.0, 62.0), (3.5, 1.0, 63.0)) == (62.0, 63.0)


def test_the_first_reading_fills_nothing_before_it() -> None:
    recent = Recent()

    assert closed(recent, 7, (7.5, 0.0, 60.0), (7.5, 3.0, 62.0)) == (61.0,)


def test_after_a_restart_nothing_earlier_is_filled() -> None:
    recent = Recent()
    closed(recent, 0, (0.5, 0.0, 60.0))
    recent.add(1_500_000, SECOND_US, 61.0)
    recent.restart()

    assert closed(recent, 4, (4.5, 3.0, 62.0), (4.5, 2.0, 64.0)) == (63.0,)


def test_no_more_is_filled_than_is_bridged() -> None:
    recent = Recent()
    closed(recent, 0, (0.5, 0.0, 60.0))
    late = [(50.5, 1.0, float(number)) for number in range(20)]

    values = closed(recent, 50, *late)

    assert isinstance(values, tuple)
    assert len(values) == BRIDGE_S + 1
    assert values[-3:] == (17.0, 18.0, 19.0)


bursts = st.lists(
    st.tuples(
        st.integers(0, 999_999),  # when in the second
        st.integers(0, 3_000_000),  # after the last one
        st.none() | st.floats(0, 100),
    ),
    max_size=12,
)


@given(st.lists(bursts, min_size=1, max_size=20))
@example([[(0, 0, 1.0)], [], [], [(0, 0, 2.0), (0, 5_000_000, None)], [(0, 0, 3.0)]])
def test_dates_are_in_order_and_never_after_arrival(
    session: list[list[tuple[int, int, float | None]]],
) -> None:
    """Whatever the sensors say; and each second is told at most once, in order."""
    recent, told = Recent(), 0
    for second, burst in enumerate(session):
        arrivals = sorted(second * SECOND_US + at_us for at_us, _, _ in burst)
        for t_us, (_, after_us, value) in zip(arrivals, burst, strict=True):
            recent.add(t_us, after_us, value)
        taken = recent.taken_us()
        assert taken == sorted(taken)
        assert all(at <= arrived for at, arrived in zip(taken, arrivals, strict=True))
        assert taken[-1:] == arrivals[-1:]
        values = recent.close(second)
        first = second - len(values) + 1
        used = [value for _, _, value in burst if value is not None]
        assert first >= told or len(values) == 1
        assert bool(used) == any(value is not None for value in values)
        for at, value in enumerate(values, start=first):
            if value is not None:
                assert at >= told
                told = at + 1
                assert min(used) - 1e-9 <= value <= max(used) + 1e-9


@given(
    st.lists(st.integers(1, 8), min_size=3, max_size=20),
    st.sampled_from([250_000, 500_000, 1_000_000]),
)
def test_bursts_of_any_size_give_the_seconds_of_a_radio_without_delay(
    sizes: list[int], period_us: int
) -> None:
    """A number that counts the readings: any that is lost, doubled or out of order shows.

    Bursts end on the last reading of a second, so that none is cut in two by its end.
    """
    per_second = SECOND_US // period_us
    prompt, late = Recent(), Recent()
    prompt_values: list[float | None] = []
    late_values: list[float | None] = []
    number = second = 0
    for size in sizes:
        burst: list[float] = []
        for empty_left in reversed(range(size)):
            for at in range(per_second):
                t_us = second * SECOND_US + (at + 1) * period_us - 1
                prompt.add(t_us, period_us, float(number))
                burst.append(float(number))
                number += 1
            prompt_values += prompt.close(second)
            if empty_left:
                late_values += late.close(second)
                second += 1
        for value in burst:
            late.add(second * SECOND_US + SECOND_US - 1, period_us, value)
        values = late.close(second)
        late_values[len(late_values) - len(values) + 1 :] = values
        second += 1

    first = sizes[0]  # before the first reading nothing can be filled
    assert late_values[first:] == pytest.approx(prompt_values[first:])
