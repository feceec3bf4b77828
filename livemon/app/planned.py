"""A plan in a live session, for everybody or for one: begun and moved on by marks.

trainings.py decides whose marks they are. The mark that begins a bout starts it, and later moves a
rest on; the one that ends a bout moves a bout on. So the key that marks bouts is all it needs.
"""

from typing import Final

from livemon.monitor.mark_fields import MarkKind
from livemon.monitor.plan import Plan, StepKind
from livemon.monitor.plan_runner import PlannedMark, PlanRunner
from livemon.monitor.refill import emptiest_pct
from livemon.monitor.snapshot import LaneState
from livemon.tongue import said
from livemon.view.step_words import step_said

#: Which marks say that a step is done.
_MOVES_ON: Final = {
    StepKind.WARM_UP: frozenset({MarkKind.BOUT_START, MarkKind.WARM_UP_END}),
    StepKind.BOUT: frozenset({MarkKind.BOUT_END, MarkKind.RECOVERY_START}),
    StepKind.RECOVERY: frozenset({MarkKind.BOUT_START, MarkKind.RECOVERY_END}),
}


class PlannedTraining:
    """Runs `plan` once."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._runner: PlanRunner | None = None

    def begin(self, t_s: float) -> None:
        """Begin the first step now, unless it has been begun."""
        if self._runner is None:
            self._runner = PlanRunner(self._plan, t_s)

    def takes(self, kind: str, t_s: float) -> bool:
        """Return whether a mark was meant for the plan; then it has been obeyed."""
        if self._runner is None:
            if kind == MarkKind.BOUT_START:
                self.begin(t_s)
            return kind == MarkKind.BOUT_START
        step = self._runner.now
        if step is None:
            return False
        if kind == MarkKind.PLAN:
            self._runner.stop(t_s)
            return True
        if kind not in _MOVES_ON[step.kind]:
            return False
        self._runner.done(t_s)
        return True

    def due(self, t_s: float, lanes: tuple[LaneState, ...]) -> tuple[PlannedMark, ...]:
        """Return the marks that are due; a rest by refilling waits for the last muscle."""
        if self._runner is None:
            return ()
        return self._runner.step(t_s, emptiest_pct(tuple(one for at in lanes for one in at.refill)))

    def parting(self, t_s: float) -> tuple[PlannedMark, ...]:
        """Return the marks for somebody who leaves the plan now, while it goes on for others."""
        return () if self._runner is None else self._runner.parting(t_s)

    @property
    def standing(self) -> str:
        """Whether it waits, runs or is over."""
        if self._runner is None:
            return said("“{plan}” waits; the next bout begins it", plan=self._plan.name)
        step = self._runner.now
        if step is None:
            return said("“{plan}” is over", plan=self._plan.name)
        return said(
            "“{plan}” runs, now: {step}", plan=self._plan.name, step=step_said(step.words())
        )

    @property
    def words(self) -> str:
        """What is to be known of it while it hasn't begun; then the screen tells by itself."""
        if self._runner is not None:
            return ""
        return said("Plan “{plan}”: begin a bout to start it", plan=self._plan.name)
