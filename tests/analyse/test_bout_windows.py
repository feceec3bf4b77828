"""Which stretch of time a figure is taken from."""

import pytest

from livemon.analyse.bout import Bout
from livemon.analyse.windows import Window, after, before, late_part


@pytest.mark.parametrize(
    ("length", "onset"),
    [(119.9, None), (120, 60), (180, 60), (300, 100), (540, 180), (3600, 180)],
)
def test_the_late_part_begins_after_a_third_between_one_and_three_minutes(
    length: float, onset: float | None
) -> None:
    """Three-minute stages from 60 s on: doi 10.1007/s00421-023-05238-9."""
    expected = None if onset is None else Window(1000 + onset, 1000 + length)

    assert late_part(Bout(1, 1000, 1000 + length)) == expected


@pytest.mark.parametrize(
    ("pause", "length"), [(300, 60), (120, 60), (100, 50), (40, 20), (39.9, None), (0, None)]
)
def test_before_is_the_second_half_of_a_pause(pause: float, length: float | None) -> None:
    first, second = Bout(1, 0, 1000), Bout(2, 1000 + pause, 2000)
    start = second.start_s
    expected = None if length is None else Window(start - length, start)

    assert before(second, (first, second)) == expected


def test_before_the_first_bout_there_is_a_minute() -> None:
    assert before(Bout(1, 500, 800), (Bout(1, 500, 800),)) == Window(440, 500)


def test_a_marked_rest_is_no_work() -> None:
    rest, bout = Bout(1, 0, 500, resting=True), Bout(2, 500, 800)

    assert before(bout, (rest, bout)) == Window(440, 500)


def test_a_warm_up_is_no_rest_to_measure_a_baseline_in() -> None:
    warm_up, bout = Bout(0, 0, 500, warm_up=True), Bout(1, 500, 800)

    assert before(bout, (warm_up, bout)) is None
    assert not warm_up.judged


@pytest.mark.parametrize(
    ("pause", "length"), [(600, 180), (180, 180), (90, 90), (60, 60), (59.9, None)]
)
def test_after_lasts_until_the_next_work_or_three_minutes(
    pause: float, length: float | None
) -> None:
    first, rest = Bout(1, 0, 1000), Bout(2, 1000, 1030, resting=True)
    second = Bout(3, 1000 + pause, 3000)
    expected = None if length is None else Window(1000, 1000 + length)

    assert after(first, (first, rest, second)) == expected
