"""`livemon score`: measure the warning's error rates on invented traces with known truth."""

import argparse
import sys

from livemon.score import command


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what can stand behind the command."""
    command.add_arguments(parser)


def run(arguments: argparse.Namespace) -> int:
    """Do it; 1 if a limit does not hold."""

    def progress(text: str) -> None:
        sys.stderr.write(text)
        sys.stderr.flush()

    return command.run(arguments, print, progress)
