"""`livemon plan`: which plans there are, what one does, and whether a file is right."""

import argparse
import textwrap
from collections.abc import Iterator

from livemon.app.plan_option import load_plan, plan_text, shipped_plans
from livemon.monitor.plan import Plan, duration_words
from livemon.monitor.plan_file import parse_plan

_WIDTH = 88


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what can stand behind the command."""
    parts = parser.add_subparsers(dest="part", required=True, metavar="PART")
    parts.add_parser("list", help="name the plans that come with livemon")
    show = parts.add_parser("show", help="print a plan's file, to start your own from")
    show.add_argument("plan", metavar="NAME|FILE")
    check = parts.add_parser("check", help="read a plan and list its steps")
    check.add_argument("plan", metavar="NAME|FILE")


def run(arguments: argparse.Namespace) -> int:
    """Do it; return the exit code."""
    if arguments.part == "show":
        print(plan_text(arguments.plan), end="")
        return 0
    lines = _list() if arguments.part == "list" else _steps(load_plan(arguments.plan))
    for line in lines:
        print(line)
    return 0


def _list() -> Iterator[str]:
    for name, text in shipped_plans().items():
        plan = parse_plan(text, name)
        yield f"{name}: {plan.name}"
        yield from textwrap.wrap(
            plan.about, _WIDTH, initial_indent="    ", subsequent_indent="    "
        )


def _steps(plan: Plan) -> Iterator[str]:
    yield plan.name
    for number, step in enumerate(plan.steps, start=1):
        yield f"{number:>4}  {step.words()}"
    known = [step.ends_after_s for step in plan.steps if step.ends_after_s is not None]
    open_end = len(known) < len(plan.steps)
    at_most = any(step.refill_pct is not None for step in plan.steps)
    before = "at most " if at_most and not open_end else ""
    after = ", and the steps that end by hand" if open_end else ""
    yield f"{len(plan.steps)} steps, {before}{duration_words(sum(known))}{after}"
