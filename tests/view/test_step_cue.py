"""When a plan is heard, and what is said of whom."""

from dataclasses import replace

import scenes

from livemon.monitor.snapshot import LaneState
from livemon.view.step_cue import StepCue


def at(lane: LaneState, t_s: float) -> LaneState:
    return replace(lane, state=replace(lane.state, t_s=t_s))


def heard(*moments: tuple[LaneState, ...], muted: frozenset[str] = frozenset()) -> list[str]:
    cue, words = StepCue(), []
    for lanes in moments:
        cue, said = cue.next(lanes, muted)
        words.append(said)
    return words


QUIET = scenes.quiet()
SOON = scenes.soon_over()
ANNOUNCED = "In 8 s: recovery, until refilled to 95 % of baseline, at most 5 min"


def test_a_step_is_heard_once_as_it_is_announced_and_once_as_it_begins() -> None:
    assert SOON.plan is not None
    begun = replace(
        SOON, plan=replace(SOON.plan, number=4, started_s=scenes.NOW_S + 8, now="recovery")
    )
    moments = [
        (QUIET,),
        (SOON,),
        (at(SOON, scenes.NOW_S + 1),),
        (at(begun, scenes.NOW_S + 8.5),),
        (at(begun, scenes.NOW_S + 9.5),),
        (at(begun, scenes.NOW_S + 20),),
    ]

    assert heard(*moments) == ["", ANNOUNCED, "", "Now: recovery", "", ""]


def test_what_was_said_before_anybody_looked_is_old() -> None:
    assert heard((SOON,), (SOON,)) == ["", ""]


def test_in_a_class_it_is_said_of_all_or_of_whom() -> None:
    other, quiet = replace(SOON, athlete="a4", name="Lane 4"), replace(QUIET, athlete="a4")

    assert heard((QUIET, quiet), (SOON, other))[1] == ANNOUNCED
    assert heard((QUIET, quiet), (SOON, quiet))[1] == f"Lane 3: {ANNOUNCED}."


def test_the_plan_of_a_muted_lane_is_not_heard() -> None:
    assert heard((QUIET,), (SOON,), muted=frozenset({"a3"})) == ["", ""]


def test_the_end_of_a_plan_is_heard_once() -> None:
    assert SOON.plan is not None
    over = replace(SOON, plan=replace(SOON.plan, number=0, started_s=scenes.NOW_S))

    assert heard((QUIET,), (over,), (over,)) == ["", "The plan is over", ""]
