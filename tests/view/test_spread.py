"""Labels at the ends of curves keep apart, inside, and near their curve."""

from itertools import pairwise

from hypothesis import example, given
from hypothesis import strategies as st

from livemon.view.spread import spread

TOP, BOTTOM = 10.0, 210.0


@example([50.0, 50.0, 50.0])
@example([210.0] * 10)
@given(st.lists(st.floats(TOP, BOTTOM), max_size=12))
def test_apart_and_inside(wanted: list[float]) -> None:
    placed = spread(wanted, 20, TOP, BOTTOM)
    step = min(20, (BOTTOM - TOP) / max(len(wanted), 1))

    assert all(TOP + step / 2 - 1e-6 <= y <= BOTTOM - step / 2 + 1e-6 for y in placed)
    assert all(below - above >= step - 1e-6 for above, below in pairwise(sorted(placed)))


def test_the_order_of_the_curves_is_the_order_of_the_labels() -> None:
    assert spread([100, 40, 102], 20, TOP, BOTTOM) == [100, 40, 120]


def test_what_is_apart_already_stays() -> None:
    assert spread([40, 100], 20, TOP, BOTTOM) == [40, 100]
