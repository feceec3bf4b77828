"""The half-recovery time on traces whose answer is known beforehand."""

from math import exp, log

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.estimate.refill import PEAK_WITHIN_S, Point, half_recovery_s, mean_between

END_S = 300.0


def recovery(
    until_s: float, tau_s: float = 20.0, low: float = 30.0, high: float = 70.0, end_s: float = END_S
) -> list[Point]:
    """Return a trace that lies at `low` and comes back exponentially from `end_s` on."""
    trace = []
    t_s = end_s - 60.5
    while t_s <= end_s + until_s:
        after_s = t_s - end_s
        trace.append((t_s, low if after_s < 0 else high - (high - low) * exp(-after_s / tau_s)))
        t_s += 1.0
    return trace


def test_of_an_exponential_it_is_tau_ln_2() -> None:
    """From 30 to 70 % with tau 20 s: 13.8629 s, the half life, by arithmetic."""
    assert half_recovery_s(recovery(60.0), END_S, 70.0) == pytest.approx(13.8629, abs=0.1)


@example(8.0, 30.0, 0.0)
@example(60.0, 55.0, 0.49)
@given(st.floats(8, 60), st.floats(10, 55), st.floats(0, 1))
def test_so_it_is_for_every_speed_and_depth(tau_s: float, low: float, phase_s: float) -> None:
    """Also between two seconds; smoothing over five seconds moves a fast one by a little."""
    end_s = END_S + phase_s
    trace = recovery(200.0, tau_s, low, end_s=end_s)

    found = half_recovery_s(trace, end_s, 70.0)
    # After three minutes the goal is the highest half minute, which a slow one has not reached.
    reached = 70 - (70 - low) * exp(-165 / tau_s)
    middle = (low + reached) / 2
    assert found == pytest.approx(-tau_s * log((70 - middle) / (70 - low)), abs=0.5)


def test_it_is_known_soon_after_the_middle_and_then_stays() -> None:
    known = [half_recovery_s(recovery(after), END_S, 70.0) for after in range(5, 175)]

    first = next(at for at, half in enumerate(known) if half is not None) + 5
    assert 14 <= first <= 17
    assert len(set(known[first - 5 :])) == 1


def test_an_overshoot_moves_the_middle_while_the_peak_is_still_to_come() -> None:
    """At first half way to rest (60); in the end half way to the peak (80), which comes later."""
    early = half_recovery_s(recovery(25.0, high=80.0), END_S, 60.0)
    late = half_recovery_s(recovery(120.0, high=80.0), END_S, 60.0)

    assert early == pytest.approx(-20 * log(35 / 50), abs=0.1)
    assert late == pytest.approx(20 * log(2), abs=0.1)


def test_without_a_resting_level_it_waits_for_the_peak() -> None:
    before, after = recovery(PEAK_WITHIN_S - 1), recovery(PEAK_WITHIN_S + 1)

    assert half_recovery_s(before, END_S, None) is None
    assert half_recovery_s(after, END_S, None) == pytest.approx(13.8629, abs=0.1)


def test_a_muscle_that_hardly_fell_has_no_way_back_to_time() -> None:
    assert half_recovery_s(recovery(200.0, low=66.0), END_S, 70.0) is None
    assert half_recovery_s(recovery(200.0, low=64.5), END_S, 70.0) is not None


def test_a_crossing_in_a_silence_was_not_seen() -> None:
    holed = [p for p in recovery(100.0) if not END_S + 8 < p[0] < END_S + 20]
    short = [p for p in recovery(100.0) if not END_S + 11.6 < p[0] < END_S + 15.4]

    assert half_recovery_s(holed, END_S, 70.0) is None
    assert half_recovery_s(short, END_S, 70.0) == pytest.approx(13.86, abs=0.5)


def test_without_the_end_of_work_nothing_can_be_said() -> None:
    rest_only = [p for p in recovery(200.0) if p[0] > END_S]

    assert half_recovery_s(rest_only, END_S, 70.0) is None
    assert half_recovery_s([], END_S, 70.0) is None
    assert half_recovery_s([], END_S, None) is None


def test_a_mean_needs_more_than_two_values() -> None:
    points = [(1.0, 50.0), (2.0, 52.0), (3.0, 54.0)]

    assert mean_between(points, 1.0, 3.0) == 52.0
    assert mean_between(points, 1.5, 3.0) is None
