"""What a muscle's noise is taken from, and what is remembered when a warning has ended."""

import random

import pytest

from livemon.estimate.muscle import Muscle


def bouts(noise_pct: float, *, bouts: int) -> Muscle:
    """Feed bouts of four minutes, 30 points down and up again with a time constant of 15 s."""
    muscle, chance, level = Muscle(None), random.Random(3), 70.0
    for second in range(bouts * 400):
        target = 70.0 if second % 400 < 160 else 40.0
        level += (target - level) / 15.0
        muscle.update(level + chance.gauss(0.0, noise_pct), warned=False)
    return muscle


@pytest.mark.parametrize("noise_pct", [0.4, 0.8])
def test_onsets_do_not_count_as_noise(noise_pct: float) -> None:
    """White noise: its semivariogram is its variance at every lag, the muscle's own wander added.

    The muscle's own way down and up again would make it several times that at 8 and 16 s.
    """
    at_8_s, at_16_s = bouts(noise_pct, bouts=5).noise.semivariogram[3:5]

    assert at_8_s == pytest.approx(noise_pct * noise_pct, rel=0.7)
    assert at_16_s == pytest.approx(noise_pct * noise_pct, rel=0.7)


def test_the_first_look_is_taken_even_in_the_middle_of_onsets() -> None:
    """Or a session of nothing but intervals would never be judged at all."""
    muscle = Muscle(None)
    for second in range(120):
        muscle.update(60.0 if second % 30 < 15 else 45.0, warned=False)

    assert muscle.noise.looks


def test_a_muscle_that_does_not_move_at_all_is_not_known_exactly() -> None:
    """A tenth of a point from second to second, and its own wander of 0.2 within 20 s."""
    muscle = Muscle(None)
    for _ in range(300):
        muscle.update(60.0, warned=False)

    assert muscle.noise.semivariogram[0] == pytest.approx(0.1**2 + 0.2**2 / 21)


@pytest.mark.parametrize(("empty_s", "calm_s"), [(3, 60), (8, 0)])
def test_seconds_that_are_told_again_count_once(empty_s: int, calm_s: int) -> None:
    """Eight of them were trouble, which no burst makes undone."""
    muscle = Muscle(None)
    for pct in [*[60.0] * 60, *[None] * empty_s]:
        muscle.update(pct, warned=False)

    muscle.take_back(empty_s)

    assert muscle.calm_s == calm_s


@pytest.mark.parametrize(("level_pct", "room_pct"), [(30.5, 0.5), (29.0, 0.0), (28.9, None)])
def test_a_point_below_the_own_low_there_is_still_no_room(
    level_pct: float, room_pct: float | None
) -> None:
    """Further down nobody knows the end, unless a fall ran into the low."""
    muscle = Muscle(30.0)
    muscle.low.by_fall = False
    for _ in range(5):
        muscle.update(level_pct, warned=False)

    assert muscle.room_pct() == room_pct


def test_seconds_that_are_told_again_count_once_since_a_warning() -> None:
    muscle = Muscle(None)
    for _ in range(60):
        muscle.update(60.0, warned=False)
    muscle.begin_afresh(8)
    for pct in (None, None, None):
        muscle.update(pct, warned=False)

    muscle.take_back(3)
    for pct in (60.0, 60.0, 60.0, 60.0):
        muscle.update(pct, warned=False)

    assert muscle.since_told_s == 4


def test_seconds_since_a_warning_ended_are_counted() -> None:
    muscle = bouts(0.4, bouts=1)
    assert muscle.since_told_s > 1000

    muscle.begin_afresh(8)
    for _ in range(5):
        muscle.update(40.0, warned=False)

    assert muscle.since_told_s == 5
    assert muscle.seconds.length == 13
