"""The plans of a live session: one for everybody, and own ones for single athletes.

Whoever has a plan of their own doesn't follow the one for everybody. A mark for everybody begins
and moves on all of them; a mark for one athlete concerns that athlete's own plan alone, unless
there is nobody else.
"""

from livemon.app.planned import PlannedTraining
from livemon.monitor.plan import Plan
from livemon.monitor.plan_runner import PlannedMark
from livemon.monitor.snapshot import LaneState
from livemon.tongue import said, said_n

#: Whom a mark is about; None is everybody.
Whom = str | None


class Trainings:
    """Runs each chosen plan once.

    Args:
        plan: for everybody from the start; None for none.
    """

    def __init__(self, plan: Plan | None = None) -> None:
        self._planned: dict[Whom, PlannedTraining] = {}
        self._parting: list[tuple[Whom, PlannedMark]] = []  #: of plans that were broken off
        if plan is not None:
            self.choose(None, plan, 0.0)

    def choose(self, whom: Whom, plan: Plan | None, t_s: float) -> None:
        """Train by `plan` from the next bout on, or by none; what ran before is broken off."""
        left = self._planned.get(whom)
        if left is None and whom is not None and plan is not None:
            left = self._planned.get(None)  # which goes on for the others
        if left is not None:
            self._parting += [(whom, mark) for mark in left.parting(t_s)]
        others = {one: planned for one, planned in self._planned.items() if one != whom}
        chosen = {} if plan is None else {whom: PlannedTraining(plan)}
        self._planned = others | chosen  # a new one: the window may be reading the old

    def begin(self, t_s: float) -> None:
        """Begin all that wait."""
        for planned in self._planned.values():
            planned.begin(t_s)

    def take(self, whom: Whom, kind: str, t_s: float, roster: tuple[str, ...]) -> tuple[Whom, ...]:
        """Return for whom a mark made by hand still has to be written; the plans took the rest."""
        if whom is not None:
            alone = len(roster) == 1 and whom not in self._planned
            planned = self._planned.get(None if alone else whom)
            return () if planned is not None and planned.takes(kind, t_s) else (whom,)
        taken = {one for one, planned in self._planned.items() if planned.takes(kind, t_s)}
        if not taken:
            return (whom,)
        # The key moved some plan on: nobody who has a plan gets a mark beside it.
        return (
            ()
            if None in self._planned
            else tuple(one for one in roster if one not in self._planned)
        )

    def due(self, t_s: float, lanes: tuple[LaneState, ...]) -> tuple[tuple[Whom, PlannedMark], ...]:
        """Return the marks that are due, and for whom."""
        found, self._parting = self._parting, []
        roster = tuple(lane.athlete for lane in lanes)
        for whom, planned in self._planned.items():
            theirs = self._followers(roster) if whom is None else {whom}
            marks = planned.due(t_s, tuple(lane for lane in lanes if lane.athlete in theirs))
            # One mark for everybody where it is for everybody: it holds for who comes later, too.
            alike = whom is not None or theirs == {*roster}
            for about in (whom,) if alike else tuple(one for one in roster if one in theirs):
                found += [(about, mark) for mark in marks]
        return tuple(sorted(found, key=lambda pair: pair[1].t_s))

    def words(self, names: dict[str, str]) -> str:
        """Say what waits to be begun; empty if nothing does."""
        waiting = [(whom, planned.words) for whom, planned in self._planned.items()]
        told = [(whom, words) for whom, words in waiting if words]
        if not told:
            return ""
        if len(told) > 1:
            return said_n(
                "{n} plan waits: begin a bout to start it",
                "{n} plans wait: begin a bout to start them",
                len(told),
            )
        whom, words = told[0]
        return words if whom is None else f"{names.get(whom, whom)}: {words}"

    def standing(self, names: dict[str, str]) -> tuple[str, ...]:
        """Return a line for each plan that was chosen: whose it is, and how it stands."""
        return tuple(
            f"{said('Everybody') if whom is None else names.get(whom, whom)}: {planned.standing}"
            for whom, planned in self._planned.items()
        )

    def _followers(self, roster: tuple[str, ...]) -> set[str]:
        """Return who follows the plan for everybody."""
        return {one for one in roster if one not in self._planned}
