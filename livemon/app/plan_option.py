"""Which plan to train by: a file, one of your own, or one that comes with livemon."""

import argparse
from pathlib import Path

from livemon.app.places import plans_folder
from livemon.app.plan_shelf import own_plans, plan_file_text, shipped_plans
from livemon.errors import UsageError
from livemon.monitor.plan import Plan
from livemon.monitor.plan_file import parse_plan


def add_plan_option(parser: argparse.ArgumentParser) -> None:
    """Add the plan."""
    parser.add_argument(
        "--plan",
        metavar="NAME|FILE",
        help="train by a plan (`livemon plan list` names them); the first bout that "
        "is begun starts it, or the session where there is no window",
    )


def plan_of(arguments: argparse.Namespace) -> Plan | None:
    """Return the plan that is asked for.

    Raises:
        UsageError: there is none of that name.
        ConfigError: the file is wrong.
    """
    return None if arguments.plan is None else load_plan(arguments.plan)


def load_plan(file_or_name: str) -> Plan:
    """Return the plan of a file, or the ready-made one of that name."""
    return parse_plan(plan_text(file_or_name), file_or_name)


def plan_text(file_or_name: str) -> str:
    """Return the text of a plan: a file, one of your own by its name, or a ready-made one.

    Raises:
        UsageError: there is none of that name.
        ConfigError: the file can't be read.
    """
    path = Path(file_or_name)
    if path.exists():
        return plan_file_text(path)
    own, ready_made = own_plans(plans_folder()), shipped_plans()
    if file_or_name in own:
        return plan_file_text(own[file_or_name])
    if file_or_name in ready_made:
        return ready_made[file_or_name]
    raise UsageError(
        f"there is no plan {file_or_name!r}: no such file, and there are "
        f"{', '.join((*own, *ready_made))}."
    )
