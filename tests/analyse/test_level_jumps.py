"""A slipped sensor is no trend."""

import numpy as np
import pytest
from invented_bouts import correlated_noise

from livemon.analyse.bins import bin_means
from livemon.analyse.bout import Bout
from livemon.analyse.jump import Jump, find_jump
from livemon.analyse.muscle import judge_muscle
from livemon.analyse.series import Floats, Series
from livemon.estimate.balance import Balance

T_S = np.arange(200.0)


def found(shape: Floats, seed: int) -> Jump | None:
    rng = np.random.default_rng(seed)
    noise = correlated_noise(rng, 200, 5, 0.8) + 0.4 * rng.normal(size=200)
    return find_jump(bin_means(Series.of(T_S, 50 + shape + noise), 0, 200))


def test_a_step_is_found_with_its_time_and_size() -> None:
    jump = find_jump(bin_means(Series.of(T_S, np.where(T_S < 90, 55.0, 48.0)), 0, 200))

    assert jump is not None
    assert jump.t_s == pytest.approx(92)  # the middle of the first five seconds after it
    assert jump.size == pytest.approx(-7)


MUSCLES = {
    "level": 0 * T_S,
    "falling": -6 * T_S / 60,
    "refilling": 12 * (1 - np.exp(-T_S / 50)),
    "falling, then level": -6 * np.clip(T_S, 0, 80) / 60,
    "level, then falling": -8 * np.clip(T_S - 100, 0, None) / 60,
}


@pytest.mark.parametrize("shape", MUSCLES.values(), ids=MUSCLES.keys())
def test_what_a_muscle_does_is_seldom_taken_for_a_step(shape: Floats) -> None:
    assert sum(found(shape, seed) is not None for seed in range(60)) <= 2


@pytest.mark.parametrize(("step", "at_least"), [(-4.0, 42), (7.0, 57)])
def test_steps_are_mostly_seen(step: float, at_least: int) -> None:
    shape = np.where(T_S < 90, 0, step)

    assert sum(found(shape, seed) is not None for seed in range(60)) >= at_least


def test_a_slip_leaves_the_word_open() -> None:
    t_s = np.arange(600.0)
    rng = np.random.default_rng(1)
    values = np.where((t_s >= 100) & (t_s < 400), 52.0, 70.0) + rng.normal(size=600) / 2
    values[t_s >= 300] -= 7
    bout = Bout(1, 100, 400)
    muscle = judge_muscle(
        "thigh",
        Series.of(t_s, values),
        None,
        bout,
        (bout,),
        resting=None,
        level_pct=None,
        own_low_pct=None,
    )

    assert muscle.word.balance is Balance.UNSURE
    assert "jumped by −7" in muscle.word.reason
    assert muscle.late.level.value is None
    assert muscle.depth.drop.value is not None


def test_too_few_bins_show_no_step() -> None:
    assert find_jump(bin_means(Series.of(T_S[:35], T_S[:35]), 0, 35)) is None
