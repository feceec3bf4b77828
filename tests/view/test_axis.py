"""The ranges of the strip chart: round, wide enough, and inside what SmO2 can be."""

import pytest
import scenes
from hypothesis import given
from hypothesis import strategies as st

from livemon.series.ring import Ring, Trail
from livemon.view.axis import bpm_range, smo2_range, ticks
from livemon.view.model import ChartModel
from livemon.view.present import present
from livemon.view.settings import ViewSettings


def chart_of(*levels: float) -> ChartModel:
    """Return the chart of a site with these levels in its last seconds."""
    ring = Ring(16)
    for at, level in enumerate(levels):
        ring.append(int((scenes.NOW_S - len(levels) + at) * 1e9), level)
    site = scenes.site(trail=Trail(ring, ring.count, 16))
    return present(scenes.lane(site), ViewSettings()).chart


@given(st.lists(st.floats(0, 100), min_size=1, max_size=16))
def test_everything_seen_fits_and_the_scale_is_round(levels: list[float]) -> None:
    low, high = smo2_range(chart_of(*levels))

    assert 0 <= low <= min(levels) <= max(levels) <= high <= 100
    assert low % 10 == high % 10 == 0
    assert high - low >= 10


def test_a_level_signal_is_not_blown_up() -> None:
    low, high = smo2_range(chart_of(55, 55.4, 55.1))

    assert high - low >= 30


def test_the_own_low_is_in_the_picture() -> None:
    assert smo2_range(present(scenes.warned(), ViewSettings()).chart)[0] <= 28


def test_before_anything_has_come_there_is_a_scale() -> None:
    chart = present(scenes.just_begun(), ViewSettings()).chart

    assert smo2_range(chart) == (30.0, 80.0)
    low, high = bpm_range(chart)
    assert low <= 152
    assert high >= 162


@pytest.mark.parametrize(
    ("low", "high", "most", "marks"),
    [
        (20, 80, 6, (20, 30, 40, 50, 60, 70, 80)),
        (20, 80, 3, (20, 40, 60, 80)),
        (100, 180, 2, (120, 160)),
        (20, 80, 0, ()),
    ],
)
def test_ticks(low: float, high: float, most: int, marks: tuple[float, ...]) -> None:
    assert ticks(low, high, most=most) == marks
