"""Whose marks begin and move which plan: one for everybody, own ones for some."""

from dataclasses import replace

import scenes_of_lanes as scenes

from livemon.app.trainings import Trainings
from livemon.monitor.mark_fields import MarkKind
from livemon.monitor.plan import Plan, Step, StepKind

ROSTER = ("a1", "a2", "a3")
LANES = tuple(scenes.lane(athlete) for athlete in ROSTER)
STEPS = (
    Step(StepKind.BOUT, "row", 60),
    Step(StepKind.RECOVERY, duration_s=30),
    Step(StepKind.BOUT, "step-ups", 60),
)
CLASS = Plan("Class", "", STEPS)
OWN = Plan("Own", "", (replace(STEPS[0], work="sled push"), *STEPS[1:]))
BEGIN, NOTE = MarkKind.BOUT_START, MarkKind.NOTE


def due(trainings: Trainings, t_s: float) -> list[tuple[str | None, str, float]]:
    """Return whom, what, when; the plan's own marks left out."""
    found = trainings.due(t_s, LANES)
    return [(whom, m.kind.value, m.t_s) for whom, m in found if m.kind is not MarkKind.PLAN]


def test_without_a_plan_every_mark_is_a_mark() -> None:
    trainings = Trainings()

    assert trainings.take(None, BEGIN, 1.0, ROSTER) == (None,)
    assert trainings.take("a2", BEGIN, 1.0, ROSTER) == ("a2",)
    assert due(trainings, 9.0) == []
    assert trainings.words({}) == ""
    assert trainings.standing({}) == ()


def test_the_plan_for_everybody_marks_everybody_at_once() -> None:
    trainings = Trainings(CLASS)
    assert trainings.take("a1", BEGIN, 1.0, ROSTER) == ("a1",)
    assert trainings.take(None, NOTE, 1.0, ROSTER) == (None,)
    assert trainings.take(None, BEGIN, 2.0, ROSTER) == ()

    assert due(trainings, 2.0) == [(None, "bout_start", 2.0)]
    assert due(trainings, 62.0) == [(None, "recovery_start", 62.0)]


def test_one_with_an_own_plan_does_not_follow_the_others() -> None:
    trainings = Trainings(CLASS)
    trainings.choose("a2", OWN, 0.0)
    assert trainings.take("a2", BEGIN, 2.0, ROSTER) == ()
    assert due(trainings, 2.0) == [("a2", "bout_start", 2.0)]

    assert trainings.take(None, BEGIN, 10.0, ROSTER) == ()
    assert due(trainings, 10.0) == [("a1", "bout_start", 10.0), ("a3", "bout_start", 10.0)]
    assert due(trainings, 62.0) == [("a2", "recovery_start", 62.0)]
    assert due(trainings, 70.0) == [("a1", "recovery_start", 70.0), ("a3", "recovery_start", 70.0)]
    assert trainings.take("a2", BEGIN, 71.0, ROSTER) == ()
    assert due(trainings, 71.0) == [("a2", "bout_start", 71.0)]


def test_a_mark_for_everybody_begins_own_plans_and_marks_the_rest() -> None:
    trainings = Trainings()
    trainings.choose("a2", OWN, 0.0)

    assert trainings.take(None, BEGIN, 2.0, ROSTER) == ("a1", "a3")
    assert due(trainings, 2.0) == [("a2", "bout_start", 2.0)]
    assert trainings.take(None, NOTE, 3.0, ROSTER) == (None,)


def test_alone_the_athletes_own_key_is_the_key_for_everybody() -> None:
    trainings = Trainings(CLASS)

    assert trainings.take("a1", NOTE, 1.0, ("a1",)) == ("a1",)
    assert trainings.take("a1", BEGIN, 1.0, ("a1",)) == ()


def test_a_plan_that_is_chosen_instead_breaks_the_other_off() -> None:
    trainings = Trainings(CLASS)
    trainings.begin(0.0)
    due(trainings, 0.0)
    trainings.choose(None, OWN, 20.0)

    assert due(trainings, 20.0) == [(None, "bout_end", 20.0)]
    assert due(trainings, 90.0) == []
    assert trainings.words({}) == "Plan “Own”: begin a bout to start it"
    trainings.choose(None, None, 91.0)
    assert trainings.standing({}) == ()
    assert due(trainings, 91.0) == []


def test_an_own_plan_takes_its_athlete_out_of_the_running_one() -> None:
    trainings = Trainings(CLASS)
    trainings.begin(0.0)
    due(trainings, 0.0)
    trainings.choose("a3", OWN, 20.0)

    assert due(trainings, 20.0) == [("a3", "bout_end", 20.0)]
    assert due(trainings, 60.0) == [("a1", "recovery_start", 60.0), ("a2", "recovery_start", 60.0)]


def test_it_says_whose_plan_waits_or_runs() -> None:
    names = {"a2": "Zoë"}
    trainings = Trainings(CLASS)
    trainings.choose("a2", OWN, 0.0)
    assert trainings.words(names) == "2 plans wait: begin a bout to start them"
    trainings.take(None, BEGIN, 1.0, ("a1", "a3"))

    assert trainings.standing(names) == (
        "Everybody: “Class” runs, now: row, 1 min",
        "Zoë: “Own” runs, now: sled push, 1 min",
    )
    trainings.choose("a2", OWN, 2.0)
    assert trainings.words(names) == "Zoë: Plan “Own”: begin a bout to start it"
    due(trainings, 200.0)
    assert trainings.standing(names)[0] == "Everybody: “Class” is over"
