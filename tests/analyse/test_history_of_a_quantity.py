"""A quantity over months: what counts as a change."""

from livemon.analyse.compare import DROP, HALF_TIME, SLOPE
from livemon.analyse.history import Point, history
from livemon.analyse.measure import Measure, unknown


def point(month: int, value: float | None) -> Point:
    figure = unknown("%", "none") if value is None else Measure(value, value - 2, value + 2, "%")
    return Point(f"r{month}", f"2026-{month:02d}-01T10:00:00+00:00", figure)


def test_fifteen_points_around_the_first_are_no_change() -> None:
    """Minimum detectable change 14 to 18 points: doi 10.1007/s00421-024-05514-2."""
    found = history(DROP, [point(5, 34.9), point(1, 20), point(3, None), point(6, 35), point(7, 5)])

    assert [p.recording for p in found.points] == ["r1", "r3", "r5", "r6", "r7"]
    assert found.band == (5, 35)
    assert found.changed == ("", "", "", "higher", "lower")


def test_the_first_known_figure_is_the_reference() -> None:
    assert history(HALF_TIME, [point(1, None), point(2, 30)]).band == (30 - 19.4, 30 + 19.4)


def test_a_slope_has_no_published_band() -> None:
    found = history(SLOPE, [point(1, -2), point(2, 8)])

    assert (found.band, found.changed) == (None, ("", ""))


def test_nothing_known() -> None:
    assert history(DROP, []).band is None
    assert history(DROP, [point(1, None)]).band is None
