"""A plan marks bouts by itself, at the moments that were planned, and announces what comes."""

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
from livemon.monitor.plan_runner import ANNOUNCED_BEFORE_S, REFILLED_FOR_S, PlannedMark, PlanRunner

RUN = Step(StepKind.BOUT, "run", 240, band_bpm=(150, 158), load=(("speed_km_h", 12.0),))
REST = Step(StepKind.RECOVERY, duration_s=60)
REFILL = Step(StepKind.RECOVERY, refill_pct=95, limit_s=300)
ROW = Step(StepKind.BOUT, "row", distance_m=500)


def plan(*steps: Step) -> Plan:
    return Plan("test", "", steps)


def test_counts_down_announces_and_marks_at_the_planned_moment() -> None:
    runner = PlanRunner(plan(RUN, REST), 100.0)

    began = runner.step(100.0, None)
    assert began.marks == (
        PlannedMark(
            100.0,
            MarkKind.BOUT_START,
            (("work", "run"), ("planned_s", 240), ("low_bpm", 150), ("high_bpm", 158)),
        ),
        PlannedMark(100.0, MarkKind.LOAD, (("speed_km_h", 12.0),)),
    )
    assert began.said == "now: run, 4 min, 150 to 158 bpm"
    assert (began.number, began.count, began.left_s, began.following) == (1, 2, 240.0, REST)

    quiet = runner.step(340 - ANNOUNCED_BEFORE_S - 0.5, None)
    assert (quiet.marks, quiet.said) == ((), None)
    assert runner.step(340 - ANNOUNCED_BEFORE_S, None).said == "in 10 s: recovery, 1 min"
    assert runner.step(339.0, None).said is None  # once is enough

    late = runner.step(340.4, None)  # looked at 0.4 s after the moment
    assert late.marks == (PlannedMark(340.0, MarkKind.RECOVERY_START, (("planned_s", 60),)),)
    assert late.said == "now: recovery, 1 min"
    assert late.elapsed_s == pytest.approx(0.4)

    assert runner.step(391.0, None).said == "in 9 s: the plan is over"
    over = runner.step(400.0, None)
    assert over.marks == (PlannedMark(400.0, MarkKind.RECOVERY_END, ()),)
    assert (over.said, over.step, over.number, runner.over) == ("plan finished", None, 0, True)
    assert runner.step(500.0, None).marks == ()


def test_a_rest_ends_when_the_muscle_has_been_refilled_for_a_while() -> None:
    runner = PlanRunner(plan(REFILL, RUN), 0.0)
    began = runner.step(0.0, 60.0)
    assert began.said == "now: recovery, until refilled to 95 % of baseline, at most 5 min"

    runner.step(40.0, 95.0)
    runner.step(40.0 + REFILLED_FOR_S - 0.1, 94.9)  # it only touched
    runner.step(50.0, 95.0)
    assert runner.step(50.0 + REFILLED_FOR_S - 0.1, 96.0).number == 1
    ended = runner.step(50.0 + REFILLED_FOR_S, 97.0)
    assert ended.number == 2
    assert ended.marks[0] == PlannedMark(53.0, MarkKind.BOUT_START, ended.marks[0].details)


def test_without_a_reading_the_time_limit_ends_the_rest() -> None:
    runner = PlanRunner(plan(REFILL, RUN), 0.0)
    runner.step(298.0, 99.0)
    runner.step(299.0, None)  # the strap slipped: what was refilled is not known any more

    assert runner.step(299.9, 99.0).number == 1
    assert runner.step(301.0, None).marks[0].t_s == 300.0


def test_a_distance_ends_by_hand() -> None:
    runner = PlanRunner(plan(ROW, REST), 0.0)
    waiting = runner.step(9_999.0, None)
    assert (waiting.number, waiting.left_s) == (1, None)

    runner.done(10_000.0)
    assert runner.step(10_000.2, None).marks == (
        PlannedMark(10_000.0, MarkKind.RECOVERY_START, (("planned_s", 60),)),
    )


def test_breaking_off_ends_what_goes_on() -> None:
    runner = PlanRunner(plan(RUN, REST), 0.0)
    runner.step(0.0, None)
    runner.stop(30.0)
    ended = runner.step(30.1, None)

    assert ended.marks == (PlannedMark(30.0, MarkKind.BOUT_END, ()),)
    assert ended.said == "plan broken off"
    runner.stop(31.0)
    runner.done(31.0)
    assert runner.step(32.0, None).marks == ()


@example([0.0, 1_000.0])
@given(st.lists(st.floats(0, 1_000), min_size=1, max_size=30).map(sorted))
def test_the_marks_are_the_same_however_often_one_looks(times: list[float]) -> None:
    """Timed steps only: their moments are known beforehand, so looking must not move them."""
    steps = plan(RUN, REST, RUN, REST)
    often, seldom = PlanRunner(steps, 0.0), PlanRunner(steps, 0.0)
    seen = [mark for t_s in times for mark in often.step(t_s, None).marks]

    assert seen == list(seldom.step(times[-1], None).marks)


@pytest.mark.parametrize(("name", "text"), ready_made_plans())
def test_a_whole_plan_makes_the_bouts_it_names(name: str, text: str) -> None:
    made = parse_plan(text, name)
    runner, marks = PlanRunner(made, 0.0), []
    for second in range(10_000):
        for due in runner.step(float(second), None).marks:
            assert checked_details(due.kind, dict(due.details)) == due.details  # as if typed
            number = f"p{len(marks)}"
            marks.append(Mark(round(due.t_s * 1e9), number, None, due.kind.value, due.details))

    assert runner.over
    bouts = bouts_of(MarkBook(marks).standing, "a1")
    assert len(bouts) == len(made.steps)
    assert [bout.kind for bout in bouts] == [step.work for step in made.steps]
    assert [(b.end_ns - b.start_ns) / 1e9 for b in bouts if b.end_ns] == [
        step.ends_after_s for step in made.steps
    ]
