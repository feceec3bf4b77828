"""`livemon plan`: which plans there are, what one does, and whether a file is right."""

import argparse
import textwrap
from collections.abc import Iterator

from livemon.app.places import plans_folder
from livemon.app.plan_option import load_plan, plan_text
from livemon.app.plan_shelf import shelf
from livemon.monitor.plan import Plan, total_words

_WIDTH = 88


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what can stand behind the command."""
    parts = parser.add_subparsers(dest="part", required=True, metavar="PART")
    parts.add_parser("list", help="name your own plans and those that come with livemon")
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
    for one in shelf(plans_folder()):
        if one.plan is None:
            yield f"{one.name}: WRONG"
            yield from _indented(one.problem)
            continue
        yield f"{one.name}: {one.plan.name}{' (your own)' if one.own else ''}"
        yield from _indented(one.plan.about)
    yield f"Your own plans go into {plans_folder()}"


def _indented(text: str) -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent="    ", subsequent_indent="    ")


def _steps(plan: Plan) -> Iterator[str]:
    yield plan.name
    for number, step in enumerate(plan.steps, start=1):
        yield f"{number:>4}  {step.words()}"
    yield total_words(plan)
