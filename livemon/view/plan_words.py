"""A plan in words: which step this is, and what comes next in good time."""

from enum import Enum
from math import ceil
from typing import Final

from livemon.monitor.refill import emptiest_pct
from livemon.monitor.snapshot import LaneState, PlanState
from livemon.tongue import said
from livemon.view.step_words import step_said
from livemon.view.words import shortened

#: Time enough to stand up and take hold of a bar; common practice, no source.
ANNOUNCED_BEFORE_S: Final = 10.0
#: A rest that ends by refilling has no known end; this near to it is near.
_NEARLY_PCT: Final = 3.0
_NOW_S: Final = 5.0
_OVER_S: Final = 10.0
#: The edge of the screen has room for so much; the announcement is in full.
_EDGE: Final = 32


class Moment(Enum):
    """When a plan has something to say."""

    SOON = "soon"
    NEARLY = "nearly"  #: a muscle is nearly refilled
    NOW = "now"
    OVER = "over"


def moment(lane: LaneState) -> Moment | None:
    """Return what the lane's plan has to say now, if anything."""
    plan = lane.plan
    if plan is None:
        return None
    since_s = lane.state.t_s - plan.started_s
    if plan.number == 0:
        return Moment.OVER if since_s < _OVER_S else None
    if since_s < _NOW_S and plan.now:
        return Moment.NOW
    if plan.planned_s is not None and plan.planned_s - since_s <= ANNOUNCED_BEFORE_S:
        return Moment.SOON
    full_pct = emptiest_pct(lane.refill)
    if plan.refill_pct is None or full_pct is None or full_pct < plan.refill_pct - _NEARLY_PCT:
        return None
    return Moment.NEARLY


def announcement(lane: LaneState) -> str:
    """Return what is to be said now; empty most of the time."""
    plan = lane.plan
    if plan is None:
        return ""
    match moment(lane):
        case Moment.OVER:
            return said("The plan is over")
        case Moment.NOW:
            return said("Now: {step}", step=step_said(plan.now))
        case Moment.SOON:
            left_s = (plan.planned_s or 0.0) - (lane.state.t_s - plan.started_s)
            return said(
                "In {seconds} s: {step}", seconds=max(ceil(left_s), 0), step=_following(plan)
            )
        case Moment.NEARLY:
            return said("Nearly refilled. Next: {step}", step=_following(plan))
    return ""


def step_remark(plan: PlanState | None) -> tuple[str, ...]:
    """Return the quiet words at the edge while a plan goes on."""
    if plan is None or plan.number == 0:
        return ()
    following, *details = _following(plan).split(", ")
    for detail in details:
        if len(following) + len(detail) > _EDGE:
            break
        following += f", {detail}"
    step = shortened(following, _EDGE)
    words = said(
        "Step {number} of {count}, next: {step}", number=plan.number, count=plan.count, step=step
    )
    return (words,)


def _following(plan: PlanState) -> str:
    if plan.following:
        return step_said(plan.following)
    # A recording made for sharing has no words.
    return said("the plan is over") if plan.number >= plan.count else said("the next step")
