"""Go through a plan as time passes: which marks are due, what comes next, how long still.

The marks it gives are recorded like those a person makes, so a replay needs no plan. It knows no
clock: time is handed in, and may jump over several steps at once.
"""

from dataclasses import dataclass
from typing import Final

from livemon.monitor.mark_fields import MarkKind
from livemon.monitor.marks import Details
from livemon.monitor.plan import Plan, Step, StepKind, duration_words

#: Time enough to stand up and take hold of a bar; common practice, no source.
ANNOUNCED_BEFORE_S: Final = 10.0

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


@dataclass(frozen=True, slots=True)
class PlanState:
    """The plan at one moment.

    Attributes:
        marks: due now, and not given before.
        said: an announcement to make now; None most of the time.
        number: of the step that goes on, from 1; 0 when the plan is over.
        elapsed_s: since the step began.
        left_s: until the step ends by the clock; None if it ends by hand.
        following: the step after this one; None after the last.
    """

    marks: tuple[PlannedMark, ...]
    said: str | None
    step: Step | None
    number: int
    count: int
    elapsed_s: float
    left_s: float | None
    following: Step | None


class PlanRunner:
    """One run through `plan`, begun at `t_s`."""

    __slots__ = ("_announced", "_began_s", "_due", "_index", "_plan", "_refilled_since_s", "_said")

    def __init__(self, plan: Plan, t_s: float) -> None:
        self._plan = plan
        self._index = 0
        self._due: list[PlannedMark] = []
        self._said: str | None = None
        self._begin(t_s)

    @property
    def over(self) -> bool:
        """Whether the last step has ended."""
        return self._index >= len(self._plan.steps)

    def step(self, t_s: float, refill_pct: float | None) -> PlanState:
        """Let time pass to `t_s`; `refill_pct` is SmO2 in % of baseline, None if not known."""
        while not self.over and (end_s := self._end_s(t_s, refill_pct)) is not None:
            self._next(end_s)
        self._announce(t_s)
        state = self._state(t_s)
        self._due, self._said = [], None
        return state

    def done(self, t_s: float) -> None:
        """End the step that goes on: the distance is covered, or the coach moves on."""
        if not self.over:
            self._next(t_s)

    def stop(self, t_s: float) -> None:
        """Break the plan off."""
        if not self.over:
            self._due.append(PlannedMark(t_s, _ENDS[self._now.kind], ()))
            self._index, self._said = len(self._plan.steps), "plan broken off"

    @property
    def _now(self) -> Step:
        return self._plan.steps[self._index]

    @property
    def _following(self) -> Step | None:
        steps = self._plan.steps
        return steps[self._index + 1] if self._index + 1 < len(steps) else None

    def _begin(self, t_s: float) -> None:
        self._began_s = t_s
        self._announced = False
        self._refilled_since_s: float | None = None
        self._due.append(PlannedMark(t_s, _STARTS[self._now.kind], _details(self._now)))
        if self._now.load:
            self._due.append(PlannedMark(t_s, MarkKind.LOAD, self._now.load))
        self._said = f"now: {self._now.words()}"

    def _next(self, t_s: float) -> None:
        ended = self._now
        self._index += 1
        if not self.over:
            self._begin(t_s)  # which ends the step before
            return
        self._due.append(PlannedMark(t_s, _ENDS[ended.kind], ()))
        self._said = "plan finished"

    def _end_s(self, t_s: float, refill_pct: float | None) -> float | None:
        """Return when the step that goes on ended, or None if it does go on."""
        wanted, after_s = self._now.refill_pct, self._now.ends_after_s
        if wanted is None or refill_pct is None or refill_pct < wanted:
            self._refilled_since_s = None
        elif self._refilled_since_s is None:
            self._refilled_since_s = t_s
        elif t_s - self._refilled_since_s >= REFILLED_FOR_S:
            return t_s
        if after_s is None or t_s - self._began_s < after_s:
            return None
        return self._began_s + after_s

    def _announce(self, t_s: float) -> None:
        left_s = None if self.over else self._left_s(t_s)
        if left_s is None or left_s > ANNOUNCED_BEFORE_S or self._announced:
            return
        self._announced = True
        if self._said is None:  # a step shorter than this is announced by its beginning
            then = self._following.words() if self._following else "the plan is over"
            self._said = f"in {duration_words(left_s)}: {then}"

    def _left_s(self, t_s: float) -> float | None:
        after_s = self._now.ends_after_s
        return None if after_s is None else self._began_s + after_s - t_s

    def _state(self, t_s: float) -> PlanState:
        count = len(self._plan.steps)
        if self.over:
            return PlanState(tuple(self._due), self._said, None, 0, count, 0.0, None, None)
        return PlanState(
            marks=tuple(self._due),
            said=self._said,
            step=self._now,
            number=self._index + 1,
            count=count,
            elapsed_s=t_s - self._began_s,
            left_s=self._left_s(t_s),
            following=self._following,
        )


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
