"""What a plan's own marks tell the screen, live and in a replay."""

from livemon.events import Mark
from livemon.monitor.corrections import MarkBook
from livemon.monitor.marks import Details
from livemon.monitor.plan import Plan, Step, StepKind
from livemon.monitor.plan_marks import plan_details, plan_state
from livemon.monitor.snapshot import PlanState

PLAN = Plan(
    "Two and a rest",
    "",
    (
        Step(StepKind.BOUT, "row", distance_m=500),
        Step(StepKind.RECOVERY, refill_pct=95, limit_s=300),
        Step(StepKind.BOUT, "run", 240),
    ),
)


def told(*marks: tuple[int, Details]) -> PlanState | None:
    book = MarkBook(Mark(t, f"m{t}", None, "plan", details) for t, details in marks)
    return plan_state(book.standing)


def test_what_is_written_is_read() -> None:
    first = 7_000_000_000, plan_details(PLAN, 0)
    second = 99_500_000_000, plan_details(PLAN, 1)

    assert told() is None
    assert told(first) == PlanState(
        "Two and a rest", 1, 3, "row, 500 m",
        "recovery, until refilled to 95 % of baseline, at most 5 min", 7.0, None, None,
    )  # fmt: skip
    assert told(first, second) == PlanState(
        "Two and a rest", 2, 3, "recovery, until refilled to 95 % of baseline, at most 5 min",
        "run, 4 min", 99.5, 300, 95,
    )  # fmt: skip


def test_after_the_last_step_nothing_follows_and_then_it_is_over() -> None:
    last = told((1_000_000_000, plan_details(PLAN, 2)))
    over = told((2_000_000_000, plan_details(PLAN, 3)))

    assert last is not None
    assert (last.number, last.following) == (3, "")
    assert over == PlanState("Two and a rest", 0, 0, "", "", 2.0, None, None)


def test_a_recording_made_for_sharing_keeps_the_numbers() -> None:
    bare = tuple(pair for pair in plan_details(PLAN, 1) if not isinstance(pair[1], str))

    assert told((1, bare)) == PlanState("", 2, 3, "", "", 1e-9, 300, 95)
