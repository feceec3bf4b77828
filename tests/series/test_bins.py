"""Samples of any rate become one value a second, without holes."""

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from scipy.stats import trim_mean

from livemon.series.bins import HISTORY_S, Second, Seconds


@example([1.0, 2.0, 3.0, 9.0])
@given(st.lists(st.floats(0, 100), min_size=4, max_size=20))
def test_a_second_is_a_trimmed_mean(values: list[float]) -> None:
    """The lowest and the highest are left out: scipy's trim_mean cuts the same."""
    second = Second()
    for value in values:
        second.add(value)

    assert second.close() == pytest.approx(trim_mean(values, 1.0001 / len(values)), abs=1e-9)


@pytest.mark.parametrize(("values", "mean"), [([], None), ([3.0], 3.0), ([1.0, 2.0, 6.0], 3.0)])
def test_few_samples_are_a_plain_mean(values: list[float], mean: float | None) -> None:
    second = Second()
    for value in values:
        second.add(value)

    assert second.close() == mean
    assert second.close() is None


def filled(*values: float | None) -> Seconds:
    seconds = Seconds()
    for value in values:
        if value is None:
            seconds.skip()
        else:
            seconds.append(value)
    return seconds


def test_before_the_first_value_nothing_has_passed() -> None:
    seconds = Seconds()

    assert (seconds.newest, seconds.empty_s, seconds.length) == (0.0, 0, 0)


def test_a_hole_is_bridged_by_a_straight_line() -> None:
    seconds = filled(10.0, None, None, 16.0)

    assert seconds.window()[-4:].tolist() == [10.0, 12.0, 14.0, 16.0]
    assert seconds.length == 4


@pytest.mark.parametrize(("empty", "length"), [(10, 12), (11, 1)])
def test_a_long_hole_begins_the_series_afresh(empty: int, length: int) -> None:
    assert filled(10.0, *[None] * empty, 10.0).length == length


@given(st.lists(st.floats(0, 100), min_size=1, max_size=3 * HISTORY_S))
def test_the_window_is_the_newest_values_in_order(values: list[float]) -> None:
    seconds = filled(*values)
    n = seconds.length

    assert n == min(len(values), HISTORY_S)
    assert seconds.window()[HISTORY_S - n :].tolist() == values[-n:]
    assert seconds.newest == values[-1]


def test_a_slip_moves_all_of_it() -> None:
    seconds = filled(10.0, 11.0)
    seconds.shift(-4.0)

    assert seconds.window()[-2:].tolist() == [6.0, 7.0]
    assert seconds.newest == 7.0


def test_what_is_forgotten_is_not_counted() -> None:
    seconds = filled(*np.arange(50.0).tolist())
    seconds.begin_afresh(keep_s=8)
    assert seconds.length == 8

    seconds.append(50.0)
    assert seconds.length == 9

    seconds.begin_afresh()
    assert seconds.length == 0
