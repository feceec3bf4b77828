"""`livemon bouts`: what each bout of a recording was, what limits, and which pace holds."""

import argparse
import json
import sys

from livemon.analyse.gather import records_of
from livemon.analyse.session import AthleteRecord, analyse_athlete
from livemon.app.bouts_desk import BoutsWish, sessions_of
from livemon.app.bouts_read import noting
from livemon.app.bouts_show import show_bouts
from livemon.app.bouts_warned import with_warnings
from livemon.app.find_recording import named_recording
from livemon.app.places import recordings_folder
from livemon.app.reading_progress import progress_of
from livemon.app.show import window_possible
from livemon.errors import UsageError
from livemon.record.library import Library
from livemon.record.reader import Recording, open_recording
from livemon.record.warning_log import warning_log
from livemon.report.plain import plain
from livemon.report.text import analysis_text
from livemon.view.bouts_history import QUANTITIES
from livemon.view.bouts_history_text import history_texts


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what can stand behind the command."""
    parser.add_argument(
        "recordings",
        metavar="RECORDING",
        nargs="*",
        help="a file, or its name in the library; without one, the newest there",
    )
    add_analysis_options(parser)
    parser.add_argument("--json", action="store_true", help="one JSON object per athlete")
    parser.add_argument(
        "--window", action="store_true", help="open the Bouts page: pick, overlay, zoom, correct"
    )
    parser.add_argument(
        "--history",
        choices=[followed.name for followed in QUANTITIES],
        metavar="QUANTITY",
        help="follow one figure through the recordings, with the band that counts as no change: "
        + ", ".join(followed.name for followed in QUANTITIES),
    )


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
    recordings = [named_recording(name) for name in arguments.recordings] or [_newest()]
    wish = BoutsWish(
        tuple(recording.path for recording in recordings),
        arguments.athlete,
        frozenset(arguments.resting),
    )
    if arguments.history is not None:
        print("\n\n".join(history_texts(sessions_of(wish), arguments.history)))
        return 0
    if window_possible(arguments.window):
        return show_bouts(wish)
    for recording in recordings:
        _print(recording, arguments)
    return 0


def _newest() -> Recording:
    library = Library(recordings_folder())
    listed = [one for one in library.summaries() if one.unreadable is None]
    if not listed:
        raise UsageError("the library is empty; name a recording, or record a session first.")
    return open_recording(library.find(listed[0].file))


def _print(recording: Recording, arguments: argparse.Namespace) -> None:
    """Print what one recording says."""
    for record in chosen_records(recording, arguments):
        analysis = analyse_athlete(record)
        if arguments.json:
            print(json.dumps(plain(analysis), ensure_ascii=False, allow_nan=False))
        else:
            print(analysis_text(analysis))
    if words := recording.problems.words():
        print(f"{recording.path}: {words}", file=sys.stderr)


def chosen_records(
    recording: Recording, arguments: argparse.Namespace
) -> tuple[AthleteRecord, ...]:
    """Return the records of the athletes who are asked for, with the warnings they got.

    Raises:
        UsageError: nobody in the recording is called so.
    """
    known = {one.athlete: one.name or one.athlete for one in recording.head.athletes}
    at_start = [one for one, name in known.items() if arguments.athlete in (one, name)]
    with progress_of(recording.path.name) as told:
        events = recording.events_about(at_start[0], told) if at_start else recording.events(told)
        records = records_of(
            recording.head, noting(known, events), idle_sites=frozenset(arguments.resting)
        )
    log = warning_log(recording.path)
    chosen = tuple(
        with_warnings(record, one, log)
        for (one, name), record in zip(known.items(), records, strict=True)
        if arguments.athlete in (None, one, name) or one in at_start
    )
    if chosen:
        return chosen
    if not records:
        raise UsageError("nobody is in this recording.")
    there = ", ".join(record.athlete for record in records)
    raise UsageError(f"nobody in this recording is called {arguments.athlete!r}; it has {there}.")
