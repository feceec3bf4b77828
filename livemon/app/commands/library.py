"""`livemon library`: the recordings on this computer."""

import argparse
import json
import os
import sys
from dataclasses import asdict
from pathlib import Path

from livemon.app.bouts_desk import BoutsWish
from livemon.app.bouts_show import show_bouts
from livemon.app.places import recordings_folder
from livemon.app.warning_words import warning_json, warning_words
from livemon.errors import UsageError
from livemon.record.counted import counted
from livemon.record.join import join
from livemon.record.library import Library, delete, rename, tag, what_goes
from livemon.record.names import athlete_names
from livemon.record.redact import redact
from livemon.record.warning_log import warning_log
from livemon.view.qt.availability import why_no_window


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what can stand behind the command."""
    parser.add_argument("--folder", type=Path, metavar="DIR", help="another folder than your own")
    parts = parser.add_subparsers(dest="part", required=True, metavar="PART")
    listed = parts.add_parser("list", help="what is there, newest first")
    listed.add_argument("--json", action="store_true", help="one JSON object per recording")
    listed.add_argument("--rebuild", action="store_true", help="read every file afresh")
    warned = parts.add_parser(
        "warnings", help="every warning as it was shown: why, when it was seen, how it ended"
    )
    warned.add_argument("recording", metavar="RECORDING")
    warned.add_argument("--json", action="store_true", help="one JSON object per warning")
    renamed = parts.add_parser("rename", help="give a recording a title")
    renamed.add_argument("recording", metavar="RECORDING")
    renamed.add_argument("title", metavar="TITLE")
    tagged = parts.add_parser("tag", help="add tags, or take them off")
    tagged.add_argument("recording", metavar="RECORDING")
    tagged.add_argument("tags", nargs="*", metavar="TAG")
    tagged.add_argument("--off", action="append", default=[], metavar="TAG")
    deleted = parts.add_parser("delete", help="delete a recording for good; asks first")
    deleted.add_argument("recording", metavar="RECORDING")
    deleted.add_argument("--yes", action="store_true", help="don't ask")
    joined = parts.add_parser("join", help="make one of two recordings of one session")
    joined.add_argument("first", metavar="RECORDING")
    joined.add_argument("second", metavar="RECORDING")
    joined.add_argument(
        "--apart", type=float, metavar="SECONDS",
        help="from the start of the first to that of the second, where their clocks are off",
    )  # fmt: skip
    compared = parts.add_parser("bouts", help="open the Bouts page; several, one athlete's")
    compared.add_argument("recordings", metavar="RECORDING", nargs="+")
    compared.add_argument("--athlete", metavar="WHO", help="whose bouts come first, by name")
    redacted = parts.add_parser("redact", help="make a copy without names and notes, to share")
    redacted.add_argument("recording", metavar="RECORDING")


def run(arguments: argparse.Namespace) -> int:
    """Do it; return the exit code."""
    folder = arguments.folder or recordings_folder()
    library = Library(folder)
    match arguments.part:
        case "list":
            _list(library, arguments)
        case "warnings":
            _warnings(library.find(arguments.recording), as_json=arguments.json)
        case "rename":
            about = rename(library.find(arguments.recording), arguments.title)
            print(f"Titled “{about.title}”.")
        case "tag":
            path = library.find(arguments.recording)
            about = tag(path, add=arguments.tags, remove=arguments.off)
            print(f"Tags: {', '.join(about.tags) or 'none'}")
        case "delete":
            return _delete(library.find(arguments.recording), sure=arguments.yes)
        case "join":
            first, second = library.find(arguments.first), library.find(arguments.second)
            print(f"Wrote {join(first, second, folder, offset_s=arguments.apart)}")
        case "bouts":
            paths = tuple(library.find(name) for name in arguments.recordings)
            return _bouts(BoutsWish(paths, arguments.athlete))
        case "redact":
            made = redact(library.find(arguments.recording), folder)
            print(
                f"Wrote {made.path}: {counted(made.names, 'name')} and "
                f"{counted(made.texts, 'text')} taken out. Look "
                "through it before you share it: rare bodies can be told by their numbers."
            )
    return 0


def _list(library: Library, arguments: argparse.Namespace) -> None:
    summaries = library.rebuild() if arguments.rebuild else library.summaries()
    if arguments.json:
        for summary in summaries:
            print(json.dumps(asdict(summary), ensure_ascii=False))
        return
    for summary in summaries:
        tags = f" [{', '.join(summary.tags)}]" if summary.tags else ""
        print(f"{summary.words()}{tags}")
    if not summaries:
        print("No recordings yet. `livemon live` records by itself.")


def _warnings(path: Path, *, as_json: bool) -> None:
    names, log = athlete_names(path), warning_log(path)
    for entry in log:
        print(warning_json(entry) if as_json else warning_words(entry, names))
    if not log and not as_json:
        print(
            "No warning was written down. Recordings that were joined, shared or made otherwise "
            "hold none; `livemon replay --json` finds them anew."
        )


def _bouts(wish: BoutsWish) -> int:
    if (obstacle := why_no_window(os.environ)) is not None:
        raise UsageError(f"{obstacle}\n`livemon bouts RECORDING` prints the same as text.")
    return show_bouts(wish)


def _delete(path: Path, *, sure: bool) -> int:
    print(f"This deletes for good: {what_goes(path).words()}")
    if not sure:
        if not sys.stdin.isatty():
            raise UsageError("nobody is there to be asked; --yes deletes without asking.")
        if input("Delete it? Type yes: ").strip().lower() != "yes":
            print("Kept.")
            return 1
    delete(path)
    print("Deleted.")
    return 0
