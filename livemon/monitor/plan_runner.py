"""Go through a plan as time passes: which marks are due.

The marks it gives are recorded like those a person makes, so a replay needs no plan. It knows no
clock: time is handed in, and may jump over several steps at once.
"""

from dataclasses import dataclass
from typing import Final

from livemon.monitor.mark_fields import MarkKind
from livemon.monitor.marks import Details
from livemon.monitor.plan import Plan, Step, StepKind
from livemon.monitor.plan_marks import plan_details

#: SmO2 readings scatter by a point or two; one that touches the mark has not reached it.
REFILLED_FOR_S: Final = 3.0

_STARTS: Final = {
    StepKind.WARM_UP: MarkKind.WARM_UP_START,
    StepKind.BOUT: MarkKind.BOUT_START,
    StepKind.RECOVERY: MarkKind.RECOVERY_START,
}
_ENDS: Final = {
    StepKind.WARM_UP: MarkKind.WARM_UP_END,
    StepKind.BOUT: MarkKind.BOUT_END,
    StepKind.RECOVERY: MarkKind.RECOVERY_END,
}


@dataclass(frozen=True, slots=True)
class PlannedMark:
    """A mark that is due; whoever runs the plan makes a Mark of it."""

    t_s: float
    kind: MarkKind
    details: Details


class PlanRunner:
    """One run through `plan`, begun at `t_s`."""

    __slots__ = ("_began_s", "_due", "_index", "_plan", "_refilled_since_s")

    def __init__(self, plan: Plan, t_s: float) -> None:
        self._plan = plan
        self._index = 0
        self._due: list[PlannedMark] = []
        self._begin(t_s)

    @property
    def now(self) -> Step | None:
        """The step that goes on; None when the last has ended."""
        return None if self._over else self._plan.steps[self._index]

    def step(self, t_s: float, refill_pct: float | None) -> tuple[PlannedMark, ...]:
        """Let time pass to `t_s`; return the marks that are due and were not given before.

        Args:
            t_s: now.
            refill_pct: SmO2 in % of baseline, None if not known.
        """
        while not self._over and (end_s := self._end_s(t_s, refill_pct)) is not None:
            self._next(end_s)
        due, self._due = tuple(self._due), []
        return due

    def done(self, t_s: float) -> None:
        """End the step that goes on: the distance is covered, or the coach moves on."""
        if not self._over:
            self._next(t_s)

    def stop(self, t_s: float) -> None:
        """Break the plan off."""
        if not self._over:
            ended, self._index = self._plan.steps[self._index], len(self._plan.steps)
            self._finish(t_s, ended)

    def parting(self, t_s: float) -> tuple[PlannedMark, ...]:
        """Return the marks for somebody who leaves the plan now, while it goes on for others."""
        step = self.now
        if step is None:
            return ()
        over = plan_details(self._plan, len(self._plan.steps))
        return (
            PlannedMark(t_s, _ENDS[step.kind], ()),
            PlannedMark(t_s, MarkKind.PLAN, over),
        )

    @property
    def _over(self) -> bool:
        return self._index >= len(self._plan.steps)

    def _begin(self, t_s: float) -> None:
        step = self._plan.steps[self._index]
        self._began_s = t_s
        self._refilled_since_s: float | None = None
        self._give(t_s, _STARTS[step.kind], _details(step))
        if step.load:
            self._give(t_s, MarkKind.LOAD, step.load)
        self._give(t_s, MarkKind.PLAN, plan_details(self._plan, self._index))

    def _next(self, t_s: float) -> None:
        ended = self._plan.steps[self._index]
        self._index += 1
        if self._over:
            self._finish(t_s, ended)
        else:
            self._begin(t_s)  # which ends the step before

    def _finish(self, t_s: float, ended: Step) -> None:
        self._give(t_s, _ENDS[ended.kind], ())
        self._give(t_s, MarkKind.PLAN, plan_details(self._plan, self._index))

    def _give(self, t_s: float, kind: MarkKind, details: Details) -> None:
        self._due.append(PlannedMark(t_s, kind, details))

    def _end_s(self, t_s: float, refill_pct: float | None) -> float | None:
        """Return when the step that goes on ended, or None if it does go on."""
        step = self._plan.steps[self._index]
        if step.refill_pct is None or refill_pct is None or refill_pct < step.refill_pct:
            self._refilled_since_s = None
        elif self._refilled_since_s is None:
            self._refilled_since_s = t_s
        elif t_s - self._refilled_since_s >= REFILLED_FOR_S:
            return t_s
        if step.ends_after_s is None or t_s - self._began_s < step.ends_after_s:
            return None
        return self._began_s + step.ends_after_s


def _details(step: Step) -> Details:
    band = step.band_bpm if step.band_bpm else (None, None)
    values = (
        ("work", step.work or None),
        ("planned_s", step.ends_after_s),
        ("planned_m", step.distance_m),
        ("refill_pct", step.refill_pct),
        ("low_bpm", band[0]),
        ("high_bpm", band[1]),
    )
    return tuple((key, value) for key, value in values if value is not None)
