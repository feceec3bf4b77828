"""The ring never grows, and a window lies in one piece."""

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.series.ring import Ring, Trail


@example(capacity=3, appended=3, wanted=3)
@example(capacity=3, appended=4, wanted=5)
@example(capacity=1, appended=2, wanted=1)
@given(capacity=st.integers(1, 20), appended=st.integers(0, 60), wanted=st.integers(0, 30))
def test_last_is_the_end_of_what_was_appended(capacity: int, appended: int, wanted: int) -> None:
    ring = Ring(capacity)
    for i in range(appended):
        ring.append(i * 10, i / 2)
    t_ns, values = ring.last(wanted)
    kept = list(range(appended))[-min(capacity, wanted) :] if min(capacity, wanted) else []

    assert t_ns.tolist() == [i * 10 for i in kept]
    assert values.tolist() == [i / 2 for i in kept]
    assert values.flags.c_contiguous
    assert not values.flags.writeable


def test_a_trail_stays_as_it_was_while_the_ring_goes_on() -> None:
    ring = Ring(10)
    for i in range(8):
        ring.append(i, float(i))
    trail = Trail(ring, ring.count, keep=5)
    before = trail.read()[1].copy()
    for i in range(8, 12):
        ring.append(i, float(i))

    assert np.array_equal(trail.read()[1], before)


def test_no_ring_without_room() -> None:
    with pytest.raises(ValueError, match="at least 1"):
        Ring(0)
