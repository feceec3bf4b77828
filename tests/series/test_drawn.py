"""The line for drawing: one hour, in order, broken where nothing came for a while."""

import numpy as np

from livemon.series.drawn import Drawn

HOUR = 3600


def test_the_line_is_broken_once_in_the_fourth_empty_second() -> None:
    line = Drawn()
    line.add(1, 60.0)
    for empty_s in (1, 2, 3):
        line.empty(1 + empty_s, empty_s)

    assert line.trail().read()[1].tolist() == [60.0]
    line.empty(5, 4)
    line.empty(6, 5)
    line.add(7, 61.0)
    t_ns, values = line.trail().read()
    assert t_ns.tolist() == [1, 5, 7]
    assert np.array_equal(values, [60.0, np.nan, 61.0], equal_nan=True)


def test_what_is_not_younger_than_the_end_of_the_line_stays_out() -> None:
    line = Drawn()
    line.add(1, 60.0)
    line.add(5, 61.0)
    line.add(5, 62.0)
    line.add(4, 63.0)

    assert line.trail().read()[1].tolist() == [60.0, 61.0]


def test_an_hour_is_drawn_and_may_be_read_for_a_minute_more() -> None:
    line = Drawn()
    for t in range(1, HOUR + 2):
        line.add(t, float(t))
    trail = line.trail()
    before = trail.read()[0].tolist()

    assert before == [*range(2, HOUR + 2)]
    for t in range(HOUR + 2, HOUR + 62):
        line.add(t, float(t))
    assert trail.read()[0].tolist() == before
    line.add(HOUR + 62, 0.0)
    assert trail.read()[0].tolist() == before[1:]
