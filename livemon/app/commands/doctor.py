"""`livemon doctor`: look for what could stop livemon on this computer."""

import argparse
import json
import textwrap
from collections.abc import Callable
from dataclasses import asdict

from livemon.app.checks import (
    Finding,
    check_bluetooth,
    check_display,
    check_folder,
    check_port,
    check_python,
    check_qt,
    check_system,
)
from livemon.app.places import recordings_folder


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what can stand behind the command."""
    parser.add_argument("--json", action="store_true", help="one JSON object per finding")


def run(arguments: argparse.Namespace) -> int:
    """Do it; 1 if anything is wrong."""
    looks: tuple[Callable[[], Finding], ...] = (
        check_python,
        check_system,
        check_qt,
        check_display,
        check_bluetooth,
        lambda: check_folder(recordings_folder()),
        check_port,
    )
    well = True
    for look in looks:
        finding = look()
        well = well and finding.well
        print(json.dumps(asdict(finding)) if arguments.json else in_lines(finding), flush=True)
    return 0 if well else 1


def in_lines(finding: Finding) -> str:
    """Return a finding as text, what to do below each other."""
    head = f"{'ok ' if finding.well else 'NO '} {finding.what:<11} "
    return textwrap.fill(finding.words, 88, initial_indent=head, subsequent_indent=" " * len(head))
