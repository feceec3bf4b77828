"""Thinning a curve must lose no peak, no gap and no end."""

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.view.decimate import pieces

SECOND = 1_000_000_000


def curve(values: list[float], hz: int = 10) -> tuple[np.ndarray, np.ndarray]:
    return np.arange(len(values), dtype=np.int64) * (SECOND // hz), np.array(values, dtype=float)


def thinned(values: list[float], columns: int) -> list[tuple[np.ndarray, np.ndarray]]:
    t_ns, y = curve(values)
    return pieces(t_ns, y, begin_ns=0, end_ns=int(t_ns[-1]) + 1, columns=columns)


@example([60.0] * 10 + [10.0] + [50.0] * 30, 2)  # lowest in a column that falls
@example([50.0] * 10 + [90.0] + [60.0] * 30, 2)  # highest in a column that rises
@example([60.0] * 10 + [90.0] + [50.0] * 30, 2)  # highest in a column that falls
@example([50.0] * 10 + [10.0] + [60.0] * 30, 2)  # lowest in a column that rises
@given(st.lists(st.floats(0, 100), min_size=1, max_size=400), st.integers(1, 60))
def test_extremes_and_the_newest_value_survive(values: list[float], columns: int) -> None:
    (piece,) = thinned(values, columns)
    x, y = piece

    assert y.min() == min(values)
    assert y.max() == max(values)
    assert y[-1] == values[-1]
    assert x.size == y.size <= max(len(values), 2 * (columns + 1) + 1)
    assert (np.diff(x) >= 0).all()


def test_a_break_parts_the_line() -> None:
    found = thinned([1, 2, np.nan, np.nan, 3, 4, 5], 100)

    assert [y.tolist() for _, y in found] == [[1, 2], [3, 4, 5]]


@pytest.mark.parametrize("values", [[np.nan], [np.nan] * 5])
def test_nothing_known_draws_nothing(values: list[float]) -> None:
    assert thinned(values, 10) == []


def test_only_what_lies_in_the_window() -> None:
    t_ns, y = curve([1, 2, 3, 4, 5], hz=1)
    ((x, inside),) = pieces(t_ns, y, begin_ns=SECOND, end_ns=3 * SECOND, columns=20)

    assert inside.tolist() == [2, 3, 4]
    assert x.tolist() == [0, 10, 20]


def test_an_empty_trail() -> None:
    assert pieces(*curve([]), begin_ns=0, end_ns=SECOND, columns=10) == []
