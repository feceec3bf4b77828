"""A plan to choose, in words."""

from livemon.tongue import said
from livemon.view.plan_commands import PlanChoice
from livemon.view.step_words import step_said


def list_words(choice: PlanChoice) -> str:
    """Return the plan's line in the list."""
    if choice.problem:
        return said("{plan} (can't be used)", plan=choice.name)
    return said("{plan} (own)", plan=choice.name) if choice.own else choice.name


def choice_words(choice: PlanChoice) -> str:
    """Return all there is to know of a plan before it is chosen; or why it can't be."""
    if choice.problem:
        return said("This file can't be used:\n\n{problem}", problem=choice.problem)
    steps = (f"{number}.  {step_said(step)}" for number, step in enumerate(choice.steps, start=1))
    return "\n".join(part for part in (choice.about, "", *steps, "", choice.total)).strip()
