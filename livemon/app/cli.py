"""The command line: which commands there are, and what happens when one fails.

A command's module is imported when the command is called, so that `livemon --help` needs neither
numpy nor Qt nor bleak.
"""

import argparse
import os
import sys
import textwrap
from collections.abc import Sequence
from importlib import import_module
from keyword import iskeyword
from typing import Final, Protocol

from livemon import __version__
from livemon.errors import LivemonError

#: Exit codes: 0 done, 1 a check found something, 2 could not be done, 130 interrupted (by custom
#: 128 + SIGINT).
FAILED: Final = 2
INTERRUPTED: Final = 130

COMMANDS: Final = {
    "demo": "watch an invented session; no hardware needed",
    "live": "read a strap and oximeters over Bluetooth",
    "replay": "watch a recording again, or turn it into JSON lines",
    "bouts": "compare the bouts of a recording: what limits, which pace holds",
    "sheet": "write one page for the athlete",
    "export": "write a recording as CSV, Parquet or SNIRF, without names",
    "import": "make a recording of a CSV file, by a small mapping file",
    "library": "list, title, join, share or delete recordings",
    "plan": "list, show or check plans of bouts and recoveries",
    "relay": "read sensors here and send them to a hub over MQTT",
    "simulate": "run an invented gym on a simulated radio",
    "scan": "list the sensors nearby",
    "adapter": "check an oximeter's adapter file, or try it on bytes",
    "score": "measure how good the warning is, on invented traces with known truth",
    "doctor": "look for what could stop livemon on this computer",
}

_CAUTION: Final = (
    "livemon gives training information. It is not a medical device: it diagnoses nothing and "
    "tells nobody to push on. Local rules and licensed practice come first."
)


class Command(Protocol):
    """What a module in `livemon.app.commands` offers."""

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        """Say what can stand behind the command."""

    def run(self, arguments: argparse.Namespace) -> int:
        """Do it; return the exit code."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    words = list(sys.argv[1:] if argv is None else argv)
    if words and words[0] in {"-h", "--help", "help"}:
        print(overview())
        return 0
    if words and words[0] in {"-V", "--version"}:
        print(f"livemon {__version__}")
        return 0
    name = words.pop(0) if words else "live"
    if name not in COMMANDS:
        return _fail(f"there is no command {name!r}. `livemon --help` lists them.")
    return _call(name, words)


def main_window() -> int:
    """Open the window: what the desktop entry `livemon-app` starts, with `live`'s options."""
    return main(["live", *sys.argv[1:]])


def overview() -> str:
    """Return the text of `livemon --help`."""
    width = max(map(len, COMMANDS))
    return "\n".join(
        [
            "usage: livemon [COMMAND] [OPTIONS]",
            "",
            *textwrap.wrap(
                "Muscle oxygenation live beside heart rate, with a warning when it keeps falling "
                "while heart rate holds steady. Without a command the window opens.",
                88,
            ),
            "",
            *(f"  {name:<{width}}  {what}" for name, what in COMMANDS.items()),
            "",
            "`livemon COMMAND --help` tells more about one of them.",
            "",
            *textwrap.wrap(_CAUTION, 88),
        ]
    )


def _call(name: str, words: list[str]) -> int:
    """Import the command, read its arguments, run it; turn what goes wrong into words."""
    module = f"{name}_" if iskeyword(name) else name
    command: Command = import_module(f"livemon.app.commands.{module}")
    parser = argparse.ArgumentParser(
        prog=f"livemon {name}",
        description=f"{COMMANDS[name][0].upper()}{COMMANDS[name][1:]}.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    command.add_arguments(parser)
    arguments = parser.parse_args(words)
    try:
        return command.run(arguments)
    except LivemonError as error:
        return _fail(str(error))
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        # Whoever read our output has gone (`| head`); keep Python from complaining once more.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return FAILED


def _fail(message: str) -> int:
    """Print one paragraph and return the exit code for "could not be done"."""
    print(
        textwrap.fill(f"livemon: {message}", 88, break_long_words=False, break_on_hyphens=False),
        file=sys.stderr,
    )
    return FAILED
