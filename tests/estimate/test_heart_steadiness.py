"""Steady, moving or undecidable, on hearts that move as hearts do."""

import numpy as np
import pytest

from livemon.estimate.heart import HeartSteadiness
from livemon.estimate.steadiness import Steadiness


def heart(levels: list[tuple[int, float]], noise_bpm: float, seed: int = 0) -> np.ndarray:
    """Approach each (seconds, bpm) with a time constant of 40 s; add noise that lasts seconds."""
    rng, bpm, wander, out = np.random.default_rng(seed), levels[0][1], 0.0, []
    for seconds, target in levels:
        for _ in range(seconds):
            bpm += (target - bpm) / 40.0
            wander = 0.83 * wander + rng.normal(0, noise_bpm * 0.56)
            out.append(round(bpm + wander))
    return np.array(out, dtype=float)


def states(values: np.ndarray) -> list[Steadiness]:
    steadiness, out = HeartSteadiness(), []
    for bpm in values.tolist():
        steadiness.update(None if np.isnan(bpm) else bpm)
        out.append(steadiness.state)
    return out


def share(seen: list[Steadiness], state: Steadiness) -> float:
    return sum(s is state for s in seen) / len(seen)


@pytest.mark.parametrize("noise_bpm", [0.5, 1.5, 2.7])
def test_a_steady_heart_is_steady(noise_bpm: float) -> None:
    assert share(states(heart([(900, 150)], noise_bpm))[200:], Steadiness.STEADY) > 0.8


@pytest.mark.parametrize("step_bpm", [-20, 15, 30])
def test_a_change_of_load_is_seen_and_its_end_too(step_bpm: int) -> None:
    seen = states(heart([(300, 140), (300, 140 + step_bpm)], 1.0))

    assert share(seen[330:360], Steadiness.MOVING) > 0.8
    assert share(seen[460:560], Steadiness.STEADY) > 0.7


@pytest.mark.parametrize(
    ("bpm_per_min", "state"), [(6.2, Steadiness.STEADY), (6.5, Steadiness.MOVING)]
)
def test_without_any_noise_a_climb_still_has_to_stand_out(
    bpm_per_min: float, state: Steadiness
) -> None:
    """Beyond 3 bpm/min by 2 of its 1.66: a heart's own wander is no less than that."""
    climbing = 100.0 + np.arange(220) * bpm_per_min / 60

    assert set(states(climbing)[180:]) == {state}


@pytest.mark.parametrize(
    ("bpm", "state"), [(4.0, Steadiness.STEADY), (6.0, Steadiness.UNDECIDABLE)]
)
def test_swings_that_would_hide_a_change_of_load_leave_it_undecidable(
    bpm: float, state: Steadiness
) -> None:
    """Up and down within 16 s: lines of 25 s are known to no better than 15 or 22 bpm/min."""
    swinging = 130.0 + bpm * np.sin(np.arange(300) * 2 * np.pi / 16)

    assert set(states(swinging)[100:]) == {state}


def test_the_way_to_a_level_five_beats_off_is_over_in_three_quarters_of_a_minute() -> None:
    """Then it goes on by less than 3 bpm/min, though it is certain that there was a way."""
    seen = states(heart([(300, 150), (80, 155)], 0.4))

    assert share(seen[312:335], Steadiness.MOVING) > 0.9
    assert set(seen[345:]) == {Steadiness.STEADY}


def test_drift_of_half_a_beat_a_minute_is_steady() -> None:
    values = heart([(1200, 150)], 1.0) + np.arange(1200) * 0.5 / 60

    assert share(states(values)[200:], Steadiness.STEADY) > 0.8


def test_nothing_is_said_without_half_a_minute_of_heart_rate() -> None:
    assert set(states(heart([(27, 150)], 1.0))) == {Steadiness.UNDECIDABLE}


def test_silence_makes_it_undecidable_in_six_seconds() -> None:
    values = heart([(200, 150)], 1.0)
    values[100:110] = np.nan
    seen = states(values)

    assert seen[104] is not Steadiness.UNDECIDABLE
    assert seen[105] is Steadiness.UNDECIDABLE


def test_single_wild_readings_change_nothing() -> None:
    values = heart([(600, 150)], 1.0)
    wild = values.copy()
    wild[100::37] += 45

    assert share(states(wild)[200:], Steadiness.STEADY) > 0.8


def test_a_lock_on_the_cadence_is_no_heart_rate() -> None:
    """It steps to 85, stays 15 s and comes back: undecidable meanwhile, never "moving"."""
    values = heart([(400, 150)], 1.0)
    values[300:315] = 85
    seen = states(values)

    assert seen[310] is Steadiness.UNDECIDABLE
    assert share(seen[300:340], Steadiness.MOVING) < 0.1


def test_a_level_that_lasts_is_believed_in_the_end() -> None:
    steadiness = HeartSteadiness()
    for bpm in [85.0] * 100 + [150.0] * 25:
        steadiness.update(bpm)

    assert steadiness.bpm == 150.0


def test_the_weight_of_a_change_follows_what_happened() -> None:
    """Positive: heart rate has moved as after a change of load; negative: it has not."""
    moved, held = HeartSteadiness(), HeartSteadiness()
    for bpm in heart([(200, 140), (35, 160)], 0.8).tolist():
        moved.update(bpm)
    for bpm in heart([(235, 140)], 0.8).tolist():
        held.update(bpm)

    assert moved.change_log_odds(25, 40) > 3
    assert held.change_log_odds(25, 40) < -0.5


def test_a_mark_makes_heart_rate_show_its_steadiness_anew() -> None:
    steadiness = HeartSteadiness()
    for bpm in heart([(200, 150)], 0.5).tolist():
        steadiness.update(bpm)
    assert steadiness.state is Steadiness.STEADY

    steadiness.load_changed()
    steadiness.update(150.0)

    assert steadiness.state is Steadiness.UNDECIDABLE
