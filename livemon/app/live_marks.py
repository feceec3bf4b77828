"""The marks of a live session: made by hand, by a plan, and taken back.

Numbers them, and asks the plans first: a mark that a plan waits for moves the plan on, and is
written by the plan. Knows no sensors, and keeps nothing of what was measured.
"""

from collections.abc import Callable
from itertools import count
from typing import Final

from livemon.app.trainings import Trainings, Whom
from livemon.events import Mark
from livemon.monitor.marks import Details, withdrawal
from livemon.monitor.plan import Plan
from livemon.monitor.snapshot import LaneState

_NS_PER_S: Final = 1e9


class LiveMarks:
    """Makes the marks of one session.

    Args:
        emit: takes each mark.
        now_ns: the session's clock.
        lanes: how everybody stands now.
        training: plans to train by.
    """

    def __init__(
        self,
        emit: Callable[[Mark], None],
        *,
        now_ns: Callable[[], int],
        lanes: Callable[[], tuple[LaneState, ...]],
        training: Trainings | None,
    ) -> None:
        self._emit = emit
        self._now_ns = now_ns
        self._lanes = lanes
        self._training = training
        self._made: list[list[Mark]] = []  #: by hand, together what was made together
        self._numbers = count(1)

    def make(self, athletes: tuple[Whom, ...], kind: str, details: Details) -> None:
        """Write a mark down for each of them as of now, unless it is what a plan waits for."""
        left = [whom for athlete in athletes for whom in self._not_planned(athlete, kind)]
        made = [Mark(self._now_ns(), self._next(), whom, kind, details) for whom in left]
        if made:
            self._made.append(made)
        for mark in made:
            self._emit(mark)

    def undo(self) -> None:
        """Take the last mark back, of all for whom it was made."""
        for original in self._made.pop() if self._made else ():
            self._emit(withdrawal(original, mark=self._next(), t_ns=self._now_ns()))

    def choose_plan(self, whom: Whom, plan: Plan | None) -> None:
        """Train by a plan from the next bout on, everybody or one athlete; None for none."""
        if self._training is not None:
            now_ns = self._now_ns()
            self._training.choose(whom, plan, now_ns / _NS_PER_S)
            self.follow_plans(now_ns)

    def follow_plans(self, now_ns: int) -> None:
        """Make the marks that the plans have due."""
        if self._training is None:
            return
        for whom, due in self._training.due(now_ns / _NS_PER_S, self._lanes()):
            at_ns = round(due.t_s * _NS_PER_S)
            late_ns = at_ns if at_ns < now_ns else None
            self._emit(Mark(now_ns, self._next(), whom, due.kind.value, due.details, late_ns))

    def _not_planned(self, athlete: Whom, kind: str) -> tuple[Whom, ...]:
        """Return for whom a mark is one of its own, and no word to a plan."""
        if self._training is None:
            return (athlete,)
        now_ns = self._now_ns()
        roster = tuple(lane.athlete for lane in self._lanes())
        left = self._training.take(athlete, kind, now_ns / _NS_PER_S, roster)
        if left != (athlete,):
            self.follow_plans(now_ns)
        return left

    def _next(self) -> str:
        """Return a name that no mark of this session has."""
        return f"m{next(self._numbers)}"
