"""Which plan to train by: a file, or one that comes with livemon."""

import argparse
from pathlib import Path

from livemon.errors import ConfigError, UsageError
from livemon.monitor.plan import Plan
from livemon.monitor.plan_file import parse_plan, ready_made_plans


def add_plan_option(parser: argparse.ArgumentParser) -> None:
    """Add the plan."""
    parser.add_argument(
        "--plan",
        metavar="NAME|FILE",
        help="train by a plan (`livemon plan list` names the ready-made ones); the first bout that "
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
    """Return the text of a plan file, or of the ready-made plan of that name."""
    path = Path(file_or_name)
    ready_made = shipped_plans()
    if not path.exists() and file_or_name in ready_made:
        return ready_made[file_or_name]
    if not path.exists():
        raise UsageError(
            f"there is no plan {file_or_name!r}: no such file, and ready-made are "
            f"{', '.join(ready_made)}."
        )
    try:
        return path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise ConfigError(file_or_name, "", f"can't be read: {error}") from error


def shipped_plans() -> dict[str, str]:
    """Return the text of each ready-made plan by the name to ask for it."""
    return {file.removesuffix(".toml").replace("_", "-"): text for file, text in ready_made_plans()}
