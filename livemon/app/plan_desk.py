"""Plans for the window: those on the shelf, and what becomes of the chosen ones."""

from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from livemon.app.places import plans_folder
from livemon.app.plan_shelf import Shelved, shelf
from livemon.app.plan_total import total_said
from livemon.app.trainings import Trainings
from livemon.monitor.plan import Plan
from livemon.view.plan_commands import PlanChoice


class Planned(Protocol):
    """A live session that can train by plans."""

    @property
    def names(self) -> dict[str, str]:
        """What the athletes are called, by id."""

    def choose_plan(self, whom: str | None, plan: Plan | None) -> None:
        """Train by a plan; called in the engine's thread."""


class PlanDesk:
    """Carries out in the engine's thread what the window asks for.

    Args:
        call: has a function run in the engine's thread.
        place: folder for one's own plans.
    """

    def __init__(
        self,
        training: Trainings,
        live: Planned,
        call: Callable[[Callable[[], object]], None],
        *,
        place: Path | None = None,
    ) -> None:
        self._training, self._live, self._call = training, live, call
        self._place = plans_folder() if place is None else place
        self._shelved: dict[str, Shelved] = {}

    def choices(self) -> tuple[PlanChoice, ...]:
        """Return all plans, read afresh."""
        self._shelved = {one.name: one for one in shelf(self._place)}
        return tuple(_choice(one) for one in self._shelved.values())

    def folder(self) -> str:
        """Return where plans of one's own are looked for."""
        return str(self._place)

    def choose(self, athlete: str | None, key: str | None) -> None:
        """Train by it from the next bout on."""
        plan = None if key is None else self._shelved[key].plan
        self._call(lambda: self._live.choose_plan(athlete, plan))

    def standing(self) -> tuple[str, ...]:
        """Return a line for each plan that was chosen."""
        return self._training.standing(self._live.names)


def _choice(one: Shelved) -> PlanChoice:
    plan = one.plan
    if plan is None:
        return PlanChoice(one.name, one.name, one.own, "", (), "", one.problem)
    steps = tuple(step.words() for step in plan.steps)
    return PlanChoice(one.name, plan.name, one.own, plan.about, steps, total_said(plan))
