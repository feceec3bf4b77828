"""`livemon bouts`: what each bout of a recording was, what limits, and which pace holds."""

import argparse
import json
import sys

from livemon.analyse.gather import records_of
from livemon.analyse.session import AthleteRecord, analyse_athlete
from livemon.app.find_recording import named_recording
from livemon.errors import UsageError
from livemon.record.reader import Recording
from livemon.report.plain import plain
from livemon.report.text import analysis_text


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what can stand behind the command."""
    parser.add_argument("recording", metavar="RECORDING", help="a file, or its name in the library")
    add_analysis_options(parser)
    parser.add_argument("--json", action="store_true", help="one JSON object per athlete")


def add_analysis_options(parser: argparse.ArgumentParser) -> None:
    """Add what every analysis can be told."""
    parser.add_argument(
        "--resting",
        action="append",
        default=[],
        metavar="SITE",
        help="a site whose muscle does not do the work; may be repeated. Sites named "
        '"... (resting)" are known',
    )
    parser.add_argument("--athlete", metavar="WHO", help="only this one, by name")


def run(arguments: argparse.Namespace) -> int:
    """Do it; return the exit code."""
    recording = named_recording(arguments.recording)
    for record in chosen_records(recording, arguments):
        analysis = analyse_athlete(record)
        if arguments.json:
            print(json.dumps(plain(analysis), ensure_ascii=False, allow_nan=False))
        else:
            print(analysis_text(analysis))
    if words := recording.problems.words():
        print(f"{recording.path}: {words}", file=sys.stderr)
    return 0


def chosen_records(
    recording: Recording, arguments: argparse.Namespace
) -> tuple[AthleteRecord, ...]:
    """Return the records of the athletes who are asked for.

    Raises:
        UsageError: nobody in the recording is called so.
    """
    records = records_of(
        recording.head, recording.events(), idle_sites=frozenset(arguments.resting)
    )
    chosen = tuple(r for r in records if arguments.athlete in (None, r.athlete))
    if chosen:
        return chosen
    if not records:
        raise UsageError("nobody is in this recording.")
    there = ", ".join(record.athlete for record in records)
    raise UsageError(f"nobody in this recording is called {arguments.athlete!r}; it has {there}.")
