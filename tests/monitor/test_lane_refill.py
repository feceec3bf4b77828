"""Refilling in the snapshot: against the baseline, from the session's own samples and marks."""

from collections.abc import Callable, Iterator
from math import exp, log

import pytest

from livemon.decode.samples import OxygenationSample
from livemon.events import Athlete, Mark, MarkValue
from livemon.monitor.lane import Lane
from livemon.monitor.marks import withdrawal
from livemon.monitor.refill import emptiest_pct
from livemon.monitor.snapshot import RefillState

WORK_S, REST_S = 100.0, 280.0


def smo2(t_s: float) -> float:
    """Rest at 70, work down to 30 with tau 15 s, back with tau 20 s. Invented."""
    if t_s < WORK_S:
        return 70.0
    if t_s < REST_S:
        return 30 + 40 * exp(-(t_s - WORK_S) / 15)
    return 70 - 40 * exp(-(t_s - REST_S) / 20)


def mark(t_s: float, kind: str, *, at_s: float | None = None, **details: MarkValue) -> Mark:
    at_ns = None if at_s is None else round(at_s * 1e9)
    return Mark(round(t_s * 1e9), f"{kind}{t_s}", None, kind, tuple(details.items()), at_ns)


def run(
    *marks: Mark,
    until_s: float,
    sites: tuple[str, ...] = ("left thigh",),
    shape: Callable[[float], float] = smo2,
) -> Lane:
    """Feed two samples a second and the marks in their time."""
    lane = Lane(Athlete("a1", "Lane 1"))
    due: Iterator[Mark] = iter(sorted(marks, key=lambda one: one.t_ns))
    following = next(due, None)
    for half_s in range(1, round(2 * until_s) + 1):
        t_s = half_s / 2
        lane.advance(t_s)
        while following is not None and following.t_ns <= t_s * 1e9:
            lane.mark(following)
            following = next(due, None)
        for site in sites:
            lane.feed(OxygenationSample(t_s, site, shape(t_s), None))
    return lane


def refill(lane: Lane) -> tuple[RefillState, ...]:
    return lane.state(0.0, ()).refill


BASELINE = mark(60, "baseline_result", site="left thigh", smo2_pct=68.0)
WORK, REST = mark(WORK_S, "bout_start"), mark(REST_S, "recovery_start")


def test_the_share_is_of_the_baseline_and_half_back_is_timed() -> None:
    (one,) = refill(run(BASELINE, WORK, REST, until_s=REST_S + 48))

    assert (one.site, one.of_baseline, one.after_s) == ("left thigh", True, 48.0)
    # The mean of three seconds that end at most a second ago.
    assert one.share_pct == pytest.approx(100 * smo2(REST_S + 46) / 68, abs=0.5)
    # Half way from 30 to that baseline, while the peak is still to come.
    assert one.half_s == pytest.approx(-20 * log((70 - 49) / 40), abs=0.5)


def test_without_a_baseline_the_level_before_the_work_stands_in() -> None:
    (one,) = refill(run(WORK, REST, until_s=REST_S + 48))

    assert not one.of_baseline
    assert one.share_pct == pytest.approx(100 * smo2(REST_S + 46) / 70, abs=0.5)


def test_a_rest_cut_short_does_not_lower_the_level_that_counts() -> None:
    """The second bout begins with the muscle at 55; full is still where it was at first."""
    again = mark(REST_S + 20, "bout_start")
    rest = mark(REST_S + 60, "recovery_start")
    (one,) = refill(run(WORK, REST, again, rest, until_s=REST_S + 80))

    assert one.share_pct == pytest.approx(100 * smo2(REST_S + 78) / 70, abs=0.5)


def test_nor_does_an_overshoot_raise_it() -> None:
    """The muscle begins at 60 and is at 70 before the second bout."""
    first = mark(50, "bout_start")

    def begun_at_60(t_s: float) -> float:
        return 60.0 if t_s < 55 else smo2(t_s)

    lane = run(first, WORK, REST, until_s=REST_S + 48, shape=begun_at_60)
    assert refill(lane)[0].share_pct == pytest.approx(100 * smo2(REST_S + 46) / 60, abs=0.5)


def test_nothing_is_told_outside_of_a_recovery_from_work() -> None:
    assert refill(run(WORK, until_s=REST_S)) == ()
    assert refill(run(REST, until_s=REST_S + 20)) == ()
    ended = mark(REST_S + 40, "recovery_end")
    assert refill(run(WORK, REST, ended, until_s=REST_S + 50)) == ()
    again = mark(REST_S + 40, "warm_up_start")
    assert refill(run(WORK, REST, again, until_s=REST_S + 50)) == ()


@pytest.mark.parametrize("first", [(BASELINE,), ()], ids=["baseline", "none"])
def test_what_was_marked_late_or_taken_back_counts_as_if_it_had_been_so(
    first: tuple[Mark, ...],
) -> None:
    in_time = refill(run(*first, WORK, REST, until_s=REST_S + 60))
    late_work = mark(REST_S + 10, "bout_start", at_s=WORK_S)
    late_rest = mark(REST_S + 30, "recovery_start", at_s=REST_S)
    late = refill(run(*first, late_work, late_rest, until_s=REST_S + 60))
    slip = mark(REST_S + 5, "bout_start")
    back = withdrawal(slip, mark="w", t_ns=round((REST_S + 8) * 1e9))
    undone = refill(run(*first, WORK, REST, slip, back, until_s=REST_S + 60))

    assert late == in_time
    assert undone == in_time


def test_asking_more_often_changes_nothing() -> None:
    often = run(BASELINE, WORK, REST, until_s=REST_S + 10)
    for half_s in range(1, 100):
        t_s = REST_S + 10 + half_s / 2
        often.advance(t_s)
        often.feed(OxygenationSample(t_s, "left thigh", smo2(t_s), None))
        refill(often)

    assert refill(often) == refill(run(BASELINE, WORK, REST, until_s=REST_S + 59.5))


def test_a_silent_muscle_has_no_share_and_an_unseen_one_is_left_out() -> None:
    lane = run(WORK, REST, until_s=REST_S + 40)
    lane.wear(("right thigh",))
    for half_s in range(40):
        lane.advance(REST_S + 40 + half_s / 2)
    (one,) = refill(lane)

    assert one.share_pct is None
    assert one.half_s == pytest.approx(20 * log(2), abs=0.5)  # what was seen stays known


def test_without_skin_contact_the_share_is_gone_at_once() -> None:
    lane = run(WORK, REST, until_s=REST_S + 40)
    lane.feed(OxygenationSample(REST_S + 40.2, "left thigh", None, None, contact=False))

    assert refill(lane)[0].share_pct is None


def test_the_emptiest_muscle_decides() -> None:
    def share(pct: float | None) -> RefillState:
        return RefillState("", pct, True, 1.0, None)

    assert emptiest_pct((share(97.0), share(92.0))) == 92.0
    assert emptiest_pct((share(97.0), share(None))) is None
    assert emptiest_pct(()) is None
