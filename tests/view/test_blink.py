"""Blinking stays inside the bands of IEC 60073, and below three flashes a second (WCAG 2.3.1)."""

from itertools import pairwise

import pytest

from livemon.view.blink import lit
from livemon.warn.priority import Priority

#: A refresh every tenth of a second sees the frame at these moments of one minute.
MOMENTS = [i / 10 for i in range(600)]


def flashes_per_second(priority: Priority) -> float:
    seen = [lit(priority, t_s, motion=True) for t_s in MOMENTS]
    risen = sum(1 for before, after in pairwise(seen) if after and not before)
    return risen / 60


def test_bands() -> None:
    assert 1.4 <= flashes_per_second(Priority.DRAIN) <= 2.8
    assert 0.4 <= flashes_per_second(Priority.CAUTION) <= 0.8
    assert flashes_per_second(Priority.INFORMATION) == 0


@pytest.mark.parametrize("priority", [Priority.DRAIN, Priority.CAUTION])
def test_duty_is_between_a_fifth_and_three_fifths(priority: Priority) -> None:
    share = sum(lit(priority, t_s, motion=True) for t_s in MOMENTS) / len(MOMENTS)

    assert 0.2 <= share <= 0.6


@pytest.mark.parametrize("priority", [*Priority, None])
def test_without_motion_the_frame_stays_lit(priority: Priority | None) -> None:
    assert all(lit(priority, t_s, motion=False) for t_s in MOMENTS)
