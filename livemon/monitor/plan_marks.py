"""What a plan's own marks say, written and read here, so that a replay shows the plan without it.

The bouts and recoveries of a plan are marks like a person's. Beside each stands one of kind "plan"
with what only the plan knew: which step this is, what follows, and until when.
"""

from collections.abc import Iterable
from typing import Final

from livemon.monitor.corrections import Standing
from livemon.monitor.mark_fields import MarkKind
from livemon.monitor.marks import Details, number_in, text_in
from livemon.monitor.plan import Plan
from livemon.monitor.snapshot import PlanState

_NS_PER_S: Final = 1e9


def plan_details(plan: Plan, index: int) -> Details:
    """Return what the mark says when step `index` begins; behind the last, that it is over."""
    if index >= len(plan.steps):
        return (("plan", plan.name),)
    step = plan.steps[index]
    following = plan.steps[index + 1].words() if index + 1 < len(plan.steps) else None
    values = (
        ("plan", plan.name),
        ("step", index + 1),
        ("steps", len(plan.steps)),
        ("now", step.words()),
        ("following", following),
        ("planned_s", step.ends_after_s),
        ("refill_pct", step.refill_pct),
    )
    return tuple((key, value) for key, value in values if value is not None)


def plan_state(standing: Iterable[Standing]) -> PlanState | None:
    """Return where the plan is, by the newest of its marks that holds."""
    marks = [one for one in standing if one.mark.kind == MarkKind.PLAN]
    if not marks:
        return None
    mark = marks[-1].mark
    return PlanState(
        name=text_in(mark, "plan"),
        number=round(number_in(mark, "step") or 0),
        count=round(number_in(mark, "steps") or 0),
        now=text_in(mark, "now"),
        following=text_in(mark, "following"),
        started_s=marks[-1].t_ns / _NS_PER_S,
        planned_s=number_in(mark, "planned_s"),
        refill_pct=number_in(mark, "refill_pct"),
    )
