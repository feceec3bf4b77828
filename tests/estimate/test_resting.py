"""The resting level: when it is stable, what it is, and why not. All readings are invented."""

import random
from collections.abc import Callable

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from scipy import stats

from livemon.estimate.resting import LEAST_S, MOST_S, Rest, RestingLevel, RestingState


def rested(
    shape: Callable[[float], float | None], until_s: float, *, hz: float = 4.0, start_s: float = 7.0
) -> RestingState:
    """Return what is said after so many seconds of `shape`."""
    level = RestingLevel(start_s)
    for at in range(1, int(until_s * hz) + 1):
        level.feed(start_s + at / hz, shape(at / hz))
    return level.state(start_s + until_s)


def noisy(level_pct: float, sd_pct: float, slope: float = 0.0) -> Callable[[float], float]:
    chance = random.Random(4)
    return lambda t_s: level_pct + slope * t_s / 60 + chance.gauss(0, sd_pct)


def test_a_quiet_minute_is_stable_and_over_at_sixty_seconds() -> None:
    before = rested(noisy(64.0, 1.0), LEAST_S - 1)
    after = rested(noisy(64.0, 1.0), LEAST_S)

    assert (before.verdict, before.over, before.left_s) == (Rest.WAITING, False, 1.0)
    assert (after.verdict, after.over, after.left_s) == (Rest.STABLE, True, 0.0)
    assert after.level_pct == pytest.approx(64.0, abs=0.3)


def test_a_rising_level_waits_for_the_second_minute_and_is_doubted_at_its_end() -> None:
    at_one = rested(noisy(60.0, 0.5, slope=4.0), LEAST_S)
    at_two = rested(noisy(60.0, 0.5, slope=4.0), MOST_S)

    assert (at_one.verdict, at_one.over, at_one.left_s) == (Rest.DRIFTING, False, 60.0)
    assert (at_two.verdict, at_two.over) == (Rest.DRIFTING, True)
    assert at_two.drift_pct_per_min == pytest.approx(4.0, abs=0.5)
    assert at_two.level_pct == pytest.approx(66.0, abs=0.5)  # the middle of the second minute


def test_a_level_that_settles_ends_early() -> None:
    """Somebody sat down: 10 points in the first half minute, then nothing."""
    settling = noisy(70.0, 0.3)

    def shape(t_s: float) -> float:
        return settling(t_s) - max(0.0, 10.0 - t_s / 3)

    assert not rested(shape, 62.0).over
    state = rested(shape, 92.0)
    assert (state.verdict, state.over) == (Rest.STABLE, True)
    assert state.level_pct == pytest.approx(70.0, abs=0.3)


def test_a_jolt_moves_nothing() -> None:
    quiet = noisy(64.0, 0.5)
    state = rested(lambda t_s: 20.0 if 20 < t_s < 26 else quiet(t_s), LEAST_S)

    assert state.verdict is Rest.STABLE
    assert state.level_pct == pytest.approx(64.0, abs=0.3)


def test_scatter_is_unsteady() -> None:
    chance = random.Random(2)
    state = rested(lambda _: 60.0 + chance.choice((-8.0, 8.0)), MOST_S, hz=0.5)

    assert (state.verdict, state.over) == (Rest.UNSTEADY, True)
    assert state.spread_pct is not None
    assert state.spread_pct > 3


@pytest.mark.parametrize(("swing_pct", "verdict"), [(3.8, Rest.STABLE), (3.9, Rest.UNSTEADY)])
def test_three_points_of_spread_are_too_many(swing_pct: float, verdict: Rest) -> None:
    """Half of the readings that far above 60 %, half below: 7.69 / 2.5631 is 3 points."""
    state = rested(lambda t_s: 60.0 + swing_pct * (-1) ** int(t_s / 2), MOST_S, hz=0.5)

    assert state.verdict is verdict


@pytest.mark.parametrize(
    ("slope", "verdict"), [(1.9, Rest.STABLE), (2.1, Rest.DRIFTING), (-2.1, Rest.DRIFTING)]
)
def test_two_points_a_minute_are_a_drift(slope: float, verdict: Rest) -> None:
    assert rested(noisy(60.0, 0.0, slope), MOST_S).verdict is verdict


def test_holes_are_told_and_no_level_is_made_of_too_few_readings() -> None:
    some = rested(lambda t_s: 60.0 if t_s < 40 else None, LEAST_S)
    few = rested(lambda t_s: 60.0 if t_s < 20 else None, LEAST_S)
    none = rested(lambda _: None, MOST_S)

    assert (some.verdict, some.level_pct) == (Rest.SPARSE, 60.0)
    assert (few.verdict, few.level_pct) == (Rest.SPARSE, None)
    assert (none.verdict, none.over, none.level_pct) == (Rest.SPARSE, True, None)


@pytest.mark.parametrize(
    ("readings", "verdict", "is_named"),
    [
        pytest.param(14, Rest.SPARSE, False, id="not half of them"),
        pytest.param(15, Rest.SPARSE, True, id="half"),
        pytest.param(23, Rest.SPARSE, True, id="not eight tenths"),
        pytest.param(24, Rest.STABLE, True, id="eight tenths"),
    ],
)
def test_of_the_thirty_points_of_a_minute(readings: int, verdict: Rest, is_named: bool) -> None:
    state = rested(lambda t_s: 60.0 if t_s <= 2 * readings else None, LEAST_S, hz=0.5, start_s=-1.0)

    assert (state.verdict, state.level_pct is not None) == (verdict, is_named)


def test_only_the_newest_minute_counts_whenever_it_began() -> None:
    state = rested(lambda t_s: 40.0 if t_s < 58 else 60.0, MOST_S, start_s=5000.0)

    assert (state.verdict, state.level_pct, state.spread_pct) == (Rest.STABLE, 60.0, 0.0)


def test_before_the_start_the_whole_minute_is_left() -> None:
    state = RestingLevel(7.0).state(5.0)

    assert (state.elapsed_s, state.left_s) == (0.0, LEAST_S)


def test_the_same_reading_twice_counts_once() -> None:
    once, twice = RestingLevel(0.0), RestingLevel(0.0)
    for at in range(1, 70):
        once.feed(float(at), 50.0 + at % 3)
        for _ in range(1 + at % 3 * 2):
            twice.feed(float(at), 50.0 + at % 3)

    assert once.state(70.0) == twice.state(70.0)


@given(
    values=st.lists(st.floats(0, 100), min_size=30, max_size=30),
)
@example(values=[0.0] * 30)
@example(values=[100.0] * 15 + [0.0] * 15)
def test_drift_and_level_agree_with_scipy(values: list[float]) -> None:
    """Oracle: scipy.stats.theilslopes, one reading in each two seconds."""
    level = RestingLevel(0.0)
    for at, value in enumerate(values):
        level.feed(2.0 * at + 1.0, value)
    state = level.state(60.0)

    slope, *_ = stats.theilslopes(values, [at / 30 for at in range(30)])
    assert state.drift_pct_per_min == pytest.approx(slope, abs=1e-9)
    assert state.level_pct == pytest.approx(sorted(values)[14] / 2 + sorted(values)[15] / 2)
    rests = sorted(value - slope * at / 30 for at, value in enumerate(values))
    # Three of thirty are left out at either end; in SD of a normal distribution.
    assert state.spread_pct == pytest.approx(
        (rests[26] - rests[3]) / (stats.norm.ppf(0.9) - stats.norm.ppf(0.1)), abs=1e-3
    )
    assert state.over is (state.verdict is Rest.STABLE)
