"""Options that several commands share."""

import argparse
from dataclasses import replace
from math import isfinite
from typing import Final

from livemon.app.places import settings_folder
from livemon.app.view_file import load_view
from livemon.view.settings import ThemeChoice, ViewSettings

_EVERY_S: Final = 10.0


def add_view_options(parser: argparse.ArgumentParser) -> None:
    """Add how to watch."""
    parser.add_argument(
        "--no-window", action="store_true", help="text in the terminal instead of the window"
    )
    parser.add_argument(
        "--every",
        type=seconds,
        default=_EVERY_S,
        metavar="SECONDS",
        help="without a terminal to draw in: how often to write a line "
        f"(default {_EVERY_S:g}; warnings are written at once)",
    )
    parser.add_argument(
        "--theme",
        choices=[choice.value for choice in ThemeChoice],
        help="how the window looks (default: as chosen in the settings)",
    )
    parser.add_argument(
        "--still", action="store_true", help="nothing on the screen moves of its own accord"
    )


def settings_of(arguments: argparse.Namespace) -> ViewSettings:
    """Return the remembered view settings, with what the options ask for.

    Raises:
        ConfigError: the settings file is wrong.
    """
    settings = load_view(settings_folder())
    if arguments.theme is not None:
        settings = replace(settings, theme=ThemeChoice(arguments.theme))
    return replace(settings, motion=False) if arguments.still else settings


def speed(text: str) -> float | None:
    """Read a pace: a number of times real time, or `max`."""
    if text == "max":
        return None
    return _above_zero(text, "a number above 0, or max")


def seconds(text: str) -> float:
    """Read a time."""
    return _above_zero(text, "seconds above 0")


def _above_zero(text: str, expected: str) -> float:
    try:
        value = float(text)
    except ValueError:
        value = 0.0
    if not isfinite(value) or value <= 0:
        raise argparse.ArgumentTypeError(f"expected {expected}; found {text!r}")
    return value
