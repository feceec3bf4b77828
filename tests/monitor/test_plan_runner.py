"""A plan marks bouts by itself, at the moments that were planned, and says what comes."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.events import Mark
from livemon.monitor.bouts import bouts_of
from livemon.monitor.corrections import MarkBook
from livemon.monitor.mark_fields import MarkKind
from livemon.monitor.marks import checked_details
from livemon.monitor.plan import Plan, Step, StepKind
from livemon.monitor.plan_file import parse_plan, ready_made_plans
from livemon.monitor.plan_marks import plan_details
from livemon.monitor.plan_runner import REFILLED_FOR_S, PlannedMark, PlanRunner

RUN = Step(StepKind.BOUT, "run", 240, band_bpm=(150, 158), load=(("speed_km_h", 12.0),))
REST = Step(StepKind.RECOVERY, duration_s=60)
REFILL = Step(StepKind.RECOVERY, refill_pct=95, limit_s=300)
ROW = Step(StepKind.BOUT, "row", distance_m=500)


def plan(*steps: Step) -> Plan:
    return Plan("test", "", steps)


def kinds(marks: tuple[PlannedMark, ...]) -> list[tuple[float, str]]:
    return [(mark.t_s, mark.kind.value) for mark in marks]


def test_marks_each_step_at_the_planned_moment_and_says_what_follows() -> None:
    runner = PlanRunner(plan(RUN, REST), 100.0)

    assert runner.step(100.0, None) == (
        PlannedMark(
            100.0,
            MarkKind.BOUT_START,
            (("work", "run"), ("planned_s", 240), ("low_bpm", 150), ("high_bpm", 158)),
        ),
        PlannedMark(100.0, MarkKind.LOAD, (("speed_km_h", 12.0),)),
        PlannedMark(
            100.0,
            MarkKind.PLAN,
            (
                ("plan", "test"), ("step", 1), ("steps", 2),
                ("now", "run, 4 min, 150 to 158 bpm"), ("following", "recovery, 1 min"),
                ("planned_s", 240),
            ),
        ),
    )  # fmt: skip
    assert runner.step(339.5, None) == ()
    assert runner.now == RUN

    late = runner.step(340.4, None)  # looked at 0.4 s after the moment
    assert kinds(late) == [(340.0, "recovery_start"), (340.0, "plan")]
    assert late[0].details == (("planned_s", 60),)

    over = runner.step(400.0, None)
    assert kinds(over) == [(400.0, "recovery_end"), (400.0, "plan")]
    assert over[1].details == (("plan", "test"),)
    assert runner.now is None
    assert runner.step(500.0, None) == ()


def test_a_rest_ends_when_the_muscle_has_been_refilled_for_a_while() -> None:
    runner = PlanRunner(plan(REFILL, RUN), 0.0)
    began = dict(runner.step(0.0, 60.0)[-1].details)
    assert began["now"] == "recovery, until refilled to 95 % of baseline, at most 5 min"
    assert (began["refill_pct"], began["planned_s"]) == (95, 300)

    runner.step(40.0, 95.0)
    runner.step(40.0 + REFILLED_FOR_S - 0.1, 94.9)  # it only touched
    runner.step(50.0, 95.0)
    assert runner.step(50.0 + REFILLED_FOR_S - 0.1, 96.0) == ()
    ended = runner.step(50.0 + REFILLED_FOR_S, 97.0)
    assert kinds(ended) == [(53.0, "bout_start"), (53.0, "load"), (53.0, "plan")]


def test_without_a_reading_the_time_limit_ends_the_rest() -> None:
    runner = PlanRunner(plan(REFILL, RUN), 0.0)
    runner.step(298.0, 99.0)
    runner.step(299.0, None)  # the strap slipped: what was refilled is not known any more

    assert runner.step(299.9, 99.0) == ()
    assert runner.step(301.0, None)[0].t_s == 300.0


def test_a_distance_ends_by_hand() -> None:
    runner = PlanRunner(plan(ROW, REST), 0.0)
    runner.step(0.0, None)
    assert runner.step(9_999.0, None) == ()

    runner.done(10_000.0)
    assert runner.step(10_000.2, None)[0] == PlannedMark(
        10_000.0, MarkKind.RECOVERY_START, (("planned_s", 60),)
    )


def test_breaking_off_ends_what_goes_on() -> None:
    runner = PlanRunner(plan(RUN, REST), 0.0)
    runner.step(0.0, None)
    runner.stop(30.0)

    assert kinds(runner.step(30.1, None)) == [(30.0, "bout_end"), (30.0, "plan")]
    runner.stop(31.0)
    runner.done(31.0)
    assert runner.step(32.0, None) == ()


def test_who_leaves_a_plan_ends_the_step_and_the_plan_while_it_goes_on_for_others() -> None:
    runner = PlanRunner(plan(RUN, REST), 0.0)
    runner.step(0.0, None)

    marks = runner.parting(30.0)

    assert kinds(marks) == [(30.0, "bout_end"), (30.0, "plan")]
    assert marks[1].details == plan_details(plan(RUN, REST), 2)
    assert runner.now is RUN
    assert kinds(runner.step(240.0, None))[0] == (240.0, "recovery_start")


def test_after_the_last_step_there_is_nothing_to_leave() -> None:
    runner = PlanRunner(plan(REST), 0.0)
    runner.step(60.0, None)

    assert (runner.now, runner.parting(61.0)) == (None, ())


@example([0.0, 1_000.0])
@given(st.lists(st.floats(0, 1_000), min_size=1, max_size=30).map(sorted))
def test_the_marks_are_the_same_however_often_one_looks(times: list[float]) -> None:
    """Timed steps only: their moments are known beforehand, so looking must not move them."""
    steps = plan(RUN, REST, RUN, REST)
    often, seldom = PlanRunner(steps, 0.0), PlanRunner(steps, 0.0)
    seen = [mark for t_s in times for mark in often.step(t_s, None)]

    assert seen == list(seldom.step(times[-1], None))


@pytest.mark.parametrize(("name", "text"), ready_made_plans())
def test_a_whole_plan_makes_the_bouts_it_names(name: str, text: str) -> None:
    made = parse_plan(text, name)
    runner, marks = PlanRunner(made, 0.0), []
    for second in range(10_000):
        for due in runner.step(float(second), None):
            assert checked_details(due.kind, dict(due.details)) == due.details  # as if typed
            number = f"p{len(marks)}"
            marks.append(Mark(round(due.t_s * 1e9), number, None, due.kind.value, due.details))

    assert runner.now is None
    bouts = bouts_of(MarkBook(marks).standing, "a1")
    assert len(bouts) == len(made.steps)
    assert [bout.kind for bout in bouts] == [step.work for step in made.steps]
    assert [(b.end_ns - b.start_ns) / 1e9 for b in bouts if b.end_ns] == [
        step.ends_after_s for step in made.steps
    ]
