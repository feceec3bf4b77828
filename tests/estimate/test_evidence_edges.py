"""The estimates at their edges: short histories, long silences, nothing to weigh."""

import numpy as np
import pytest

from livemon.estimate.bank import MUSCLE, read
from livemon.estimate.falling import best_fall, falls_after_levels
from livemon.estimate.heart import HeartSteadiness
from livemon.estimate.muscle import Muscle
from livemon.estimate.noise import LAGS_S
from livemon.estimate.refill import half_recovery_s
from livemon.estimate.rivals import lead_over_step
from livemon.estimate.slip import SlipFilter
from livemon.estimate.steadiness import Steadiness
from livemon.series.bins import BRIDGE_S, HISTORY_S

T = np.arange(-HISTORY_S + 1.0, 1.0)
NOISE = np.full(len(LAGS_S), 0.16)


def test_a_span_longer_than_the_history_is_not_looked_at() -> None:
    window = 60 - 0.1 * np.maximum(T + 15, 0)
    readings = read(MUSCLE[0], window, MUSCLE[0].errors(NOISE))
    spans = [fall.span_s for fall in falls_after_levels(readings, HISTORY_S, 0.4)]

    for length in (19, *spans):
        told = [fall.span_s for fall in falls_after_levels(readings, length, 0.4)]
        assert told == [span_s for span_s in spans if span_s <= length]


def test_from_62_seconds_on_a_fall_has_to_come_from_a_level() -> None:
    """A rise until 34 s ago, then a fall: no bend from a level describes it as well as a line."""
    window = 60 + 0.2 * np.minimum(T + 34, 0) - 0.1 * np.maximum(T + 34, 0)
    readings = read(MUSCLE[0], window, MUSCLE[0].errors(NOISE))
    ages_and_spans = [
        (fall.age_s, fall.span_s)
        for length in (61, 62)
        if (fall := best_fall(readings, length, 1.0)) is not None
    ]

    assert ages_and_spans == [(34, 34), (24, 32)]


def test_where_nothing_falls_a_step_down_takes_the_lead_and_else_nobody() -> None:
    """A rise has no ramp down and no step down in it; half the square of nothing is nothing."""
    rising = 60 + 0.1 * np.maximum(T + 40, 0)

    assert lead_over_step(rising, NOISE, 62, 0) == 0.0
    assert lead_over_step(0.0 * rising, NOISE, 62, 0) == 0.0
    assert lead_over_step(120 - rising, NOISE, 62, 0) > 0.0


def test_a_strap_put_right_starts_the_history_again_once_the_old_one_is_silent() -> None:
    steadiness = HeartSteadiness()
    for _ in range(100):
        steadiness.update(85.0)
    for _ in range(BRIDGE_S):
        steadiness.update(190.0)
    assert (steadiness.bpm, steadiness.doubtful) == (85.0, True)

    steadiness.update(190.0)
    steadiness.update(190.0)

    assert (steadiness.bpm, steadiness.doubtful) == (190.0, False)
    assert steadiness.state is Steadiness.UNDECIDABLE


@pytest.mark.parametrize(
    ("silent_s", "bpm", "is_doubtful"),
    [(0, 112.0, False), (0, 112.1, True), (3, 115.0, False), (3, 115.1, True)],
)
def test_twelve_beats_and_one_for_each_silent_second_are_believed(
    silent_s: int, bpm: float, is_doubtful: bool
) -> None:
    steadiness = HeartSteadiness()
    steadiness.update(100.0)
    for _ in range(silent_s):
        steadiness.update(None)
    steadiness.update(bpm)

    assert steadiness.doubtful is is_doubtful


def test_before_the_first_second_and_after_a_restart_nothing_is_said_of_a_heart() -> None:
    steadiness = HeartSteadiness()
    said = [(steadiness.state, steadiness.steady_for_s, steadiness.doubtful)]
    for bpm in (*[150.0] * 100, 190.0):
        steadiness.update(bpm)
    assert (steadiness.state, steadiness.doubtful) == (Steadiness.STEADY, True)

    steadiness.restart()
    said.append((steadiness.state, steadiness.steady_for_s, steadiness.doubtful))

    assert said == [(Steadiness.UNDECIDABLE, 0, False)] * 2
    assert (steadiness.bpm, steadiness.drift_bpm_per_min) == (None, None)


def test_seconds_that_are_told_again_were_not_silent() -> None:
    steadiness = HeartSteadiness()
    for bpm in (*[150.0] * 60, None, None, None):
        steadiness.update(bpm)
    steady_for_s = steadiness.steady_for_s

    steadiness.take_back(2)

    assert (steadiness.silent_s, steadiness.steady_for_s) == (1, steady_for_s - 2)


def test_what_was_not_steady_is_not_steadier_for_being_told_again() -> None:
    steadiness = HeartSteadiness()
    for bpm in (*[150.0] * 60, *[None] * 6):
        steadiness.update(bpm)
    assert steadiness.steady_for_s == 0

    steadiness.take_back(4)

    assert steadiness.steady_for_s == 0


def test_a_change_older_than_the_history_weighs_nothing() -> None:
    steadiness = HeartSteadiness()
    for _ in range(40):
        steadiness.update(150.0)

    assert steadiness.change_log_odds(100, 140) == 0.0
    assert steadiness.change_log_odds(8, 20) < 0.0


@pytest.mark.parametrize("since_s", [3, 4, 20])
def test_a_muscle_is_given_three_seconds_at_most_for_a_jump(since_s: int) -> None:
    """Of 2.5 points each, and 4.5 SD of noise: 7.5 + 0.9; after a longer silence no more."""
    below, above = (
        SlipFilter().judge(value, 60.0, since_s, 0.2).use for value in (60.0 - 8.3, 60.0 - 8.5)
    )

    assert (below, above) == (True, False)


def test_a_restart_forgets_the_value_that_was_held_back() -> None:
    muscle = Muscle(None)
    for pct in (*[60.0] * 20, 90.0):
        muscle.update(pct, warned=False)
    assert muscle.suspicious

    muscle.restart()

    assert not muscle.suspicious
    assert muscle.readings is None


def test_of_a_short_session_the_lowest_lately_is_no_low() -> None:
    muscle = Muscle(None)
    for _ in range(20):
        muscle.update(40.0, warned=False)
    assert muscle.lowest_lately_pct == 100.0

    for _ in range(40):
        muscle.update(40.0, warned=False)
    assert muscle.lowest_lately_pct == pytest.approx(40.0)


def test_a_recovery_that_ends_below_the_middle_has_no_time_yet() -> None:
    """The trace ends while smoothing could still change it, before half way to the rest level."""
    points = [(float(t), 40.0) for t in range(60)] + [(60.0 + t, 40.0 + t) for t in range(12)]

    assert half_recovery_s(points, 60.0, 70.0) is None
    longer = points + [(72.0 + t, 52.0 + t) for t in range(12)]
    assert half_recovery_s(longer, 60.0, 70.0) == pytest.approx(15.0, abs=0.5)
