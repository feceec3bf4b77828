"""The bout clock in words and numbers: it counts down where a time is planned, else up."""

from math import ceil
from typing import Final

from livemon.monitor.snapshot import BoutState, LaneState, PlanState
from livemon.tongue import marked, said
from livemon.view.model import ClockModel
from livemon.view.numbers import clock
from livemon.view.words import sentence_case

#: Outside of bouts.
NO_BOUT: Final = ClockModel("", "", "")

_LEFT: Final = marked("left of {time}")
_LEFT_AT_MOST: Final = marked("left of at most {time}")


def clock_model(lane: LaneState) -> ClockModel:
    """Word the bout or recovery that goes on, or a plan's step that is neither."""
    bout, plan, t_s = lane.bout, lane.plan, lane.state.t_s
    if bout is not None:
        # A rest that ends by refilling may end sooner.
        left = _LEFT if bout.refill_pct is None else _LEFT_AT_MOST
        return _counted(_title(bout), t_s - bout.started_s, bout.planned_s, left)
    if plan is not None and plan.number > 0:
        return _counted(_step(plan), t_s - plan.started_s, plan.planned_s, _LEFT)
    return NO_BOUT


def _title(bout: BoutState) -> str:
    if bout.resting:
        title = said("Recovery after bout {number}", number=bout.number)
        if bout.refill_pct is None:
            return title
        return f"{title} · {said('to {percent} %', percent=f'{bout.refill_pct:g}')}"
    distance = "" if bout.planned_m is None else f"{bout.planned_m:g} m"
    return " · ".join(
        part for part in (said("Bout {number}", number=bout.number), bout.kind, distance) if part
    )


def _step(plan: PlanState) -> str:
    """Return what is done, without the times that stand beside it: "Warm-up"."""
    return sentence_case(plan.now.partition(", ")[0]) or said("Step {number}", number=plan.number)


def _counted(title: str, elapsed_s: float, planned_s: float | None, left: str) -> ClockModel:
    if planned_s is None:
        return ClockModel(title, clock(elapsed_s), "")
    left_s = planned_s - elapsed_s
    if left_s < 0:
        return ClockModel(title, f"+{clock(-left_s)}", said("over {time}", time=clock(planned_s)))
    # Rounded up, so that 0:00 is the end and not the last second.
    return ClockModel(title, clock(ceil(left_s)), said(left, time=clock(planned_s)))
