"""What a person can ask for about plans, and what there is to choose from."""

from dataclasses import dataclass
from typing import Protocol


@dataclass(frozen=True, slots=True)
class PlanChoice:
    """One plan to choose.

    Attributes:
        key: to choose it by.
        own: a file of one's own, not one that comes with livemon.
        steps: in words, rounds written out.
        total: how many steps there are, and how long they take.
        problem: why it can't be used; empty if it can.
    """

    key: str
    name: str
    own: bool
    about: str
    steps: tuple[str, ...]
    total: str
    problem: str = ""


class PlanCommands(Protocol):
    """Has plans, and lets them be trained by. Called in the window's thread; returns at once."""

    def choices(self) -> tuple[PlanChoice, ...]:
        """Return all plans, read afresh."""

    def folder(self) -> str:
        """Return where plans of one's own are looked for."""

    def choose(self, athlete: str | None, key: str | None) -> None:
        """Train by the plan `key` from the next bout on; None for none. `athlete` None is all."""

    def standing(self) -> tuple[str, ...]:
        """Return a line for each plan that was chosen: whose it is, and how it stands."""
