"""`livemon demo`: an invented session, for a first look without hardware."""

import argparse
from importlib.resources import as_file, files
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Final

from livemon.app.commands.replay import watch_recording
from livemon.app.options import add_view_options, speed
from livemon.record.reader import open_recording

#: Twenty-three minutes of training in under three.
_SPEED: Final = 8.0
_NAME: Final = "over-the-line.jsonl"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what can stand behind the command."""
    parser.add_argument(
        "--speed", type=speed, default=_SPEED, metavar="N",
        help=f"times real time, or max (default {_SPEED:g})",
    )  # fmt: skip
    add_view_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Do it; return the exit code."""
    with as_file(demo_recording()) as path:
        return watch_recording(open_recording(path), arguments, arguments.speed)


def demo_recording() -> Traversable:
    """Return the demo's recording: part of the wheel, or beside the package in a checkout."""
    shipped = files("livemon") / "demo" / _NAME
    return shipped if shipped.is_file() else Path(__file__).parents[3] / "replay_fixtures" / _NAME
