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


def step_back(*after: tuple[float, float, float]) -> list[Point]:
    """Return 30 % in the last 15 s of work, then each (from, until, level) once a second."""
    work = [(END_S - at - 0.5, 30.0) for at in reversed(range(15))]
    rest = [
        (END_S + second + 0.5, pct)
        for from_s, until_s, pct in after
        for second in range(int(from_s), int(until_s))
    ]
    return work + rest


def test_it_is_known_at_the_end_of_the_third_minute() -> None:
    trace = [(t_s + 0.5, pct) for t_s, pct in recovery(PEAK_WITHIN_S)]

    assert trace[-1][0] == END_S + PEAK_WITHIN_S
    assert half_recovery_s(trace, END_S, None) is not None


def test_readings_that_begin_just_before_the_end_of_work_are_enough() -> None:
    """Five seconds around each: 46 % half a second before the end, 54 % half a second after."""
    trace = step_back((0, 5, 70.0))[-8:]

    assert half_recovery_s(trace, END_S, 70.0) == pytest.approx(0.0)


def test_the_first_half_minute_counts_whole() -> None:
    """48, 28 times 80 and 48 %: 77.87 % is the peak, and 53.93 % the middle, by hand.

    Of five seconds around, 53.6 % is the mean half a second after the end, 63.6 % a second later.
    """
    trace = step_back((0, 1, 48.0), (1, 29, 80.0), (29, 30, 48.0), (30, 181, 40.0))

    assert half_recovery_s(trace, END_S, None) == pytest.approx(0.533, abs=0.002)


def test_a_few_high_seconds_are_no_peak() -> None:
    """The highest half minute begins with them: five at 90 and 25 at 60 % make 65 %."""
    trace = step_back((0, 2, 30.0), (2, 7, 90.0), (7, 181, 60.0))

    assert half_recovery_s(trace, END_S, None) == pytest.approx(0.958, abs=0.001)


@pytest.mark.parametrize("shift_s", [0.0, 0.5])
def test_what_is_half_back_when_work_ends_was_not_seen(shift_s: float) -> None:
    """80 % at once: of five seconds around, the middle of 50 % is met half a second before."""
    trace = [(t_s + shift_s, pct) for t_s, pct in step_back((0, 10, 80.0))]

    assert half_recovery_s(trace, END_S, 70.0) is None


@pytest.mark.parametrize(("next_s", "is_seen"), [(6.5, True), (6.6, False)])
def test_up_to_five_seconds_are_no_silence(next_s: float, is_seen: bool) -> None:
    work = step_back((0, 2, 30.0))
    trace = work + [(END_S + next_s + at, 70.0) for at in range(5)]

    assert (half_recovery_s(trace, END_S, 70.0) is not None) is is_seen


@pytest.mark.parametrize(("each_s", "is_known"), [(10, True), (15, False)])
def test_three_readings_make_a_half_minute_and_two_do_not(each_s: int, is_known: bool) -> None:
    trace = step_back((0, 10, 40.0), (10, 20, 60.0))
    trace += [(END_S + at, 70.0) for at in range(55, 190, each_s)]

    assert (half_recovery_s(trace, END_S, None) is not None) is is_known


def test_five_points_are_enough_to_be_timed() -> None:
    trace = step_back((0, 40, 35.0))

    assert half_recovery_s(trace, END_S, 35.0) is not None
    assert half_recovery_s(trace, END_S, 34.9) is not None
    assert half_recovery_s(step_back((0, 40, 34.9)), END_S, 34.9) is None


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
