"""`livemon export`: a recording for a spreadsheet, a data frame or a laboratory's tools."""

import argparse
import sys
from datetime import tzinfo
from pathlib import Path
from typing import Final
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from livemon.app.export_format import SUFFIXES, Form, Options, opener
from livemon.app.export_run import export, rows_in_words
from livemon.app.find_recording import named_recording
from livemon.exchange.csv_dialect import Dialect
from livemon.exchange.rows import Wish

_SEPARATORS: Final = {"tab": "\t", "comma": ",", "semicolon": ";"}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what can stand behind the command."""
    parser.add_argument("recording", metavar="RECORDING", help="a file, or its name in the library")
    parser.add_argument(
        "--to", required=True, choices=[form.value for form in Form], help="the format"
    )
    parser.add_argument(
        "--out", type=Path, metavar="PATH", help="where to (default: here, by the recording's name)"
    )
    shape = parser.add_mutually_exclusive_group()
    shape.add_argument(
        "--one-file", action="store_true", help="one row for each value, all in one file"
    )
    shape.add_argument(
        "--per-table",
        action="store_true",
        help="a folder with one file for each table (default); SNIRF: for each athlete",
    )
    parser.add_argument(
        "--athlete",
        action="append",
        default=[],
        metavar="WHO",
        help="only this one, by id or name; may be repeated",
    )
    parser.add_argument("--decimal", default=".", metavar=".|,", help="CSV: decimal sign")
    parser.add_argument(
        "--separator", metavar="SIGN", help="CSV: , or ; or tab (default , and with --decimal , ;)"
    )
    parser.add_argument(
        "--zone", type=_zone, metavar="NAME", help="CSV: local time of this zone (default: yours)"
    )
    parser.add_argument(
        "--haemoglobin",
        action="store_true",
        help="SNIRF: HbO and HbR on an even grid, for readers that know no StO2",
    )
    parser.add_argument(
        "--names", action="store_true", help="write names and notes, too; they are left out unasked"
    )
    parser.add_argument("--overwrite", action="store_true", help="write over what is there")


def run(arguments: argparse.Namespace) -> int:
    """Do it; return the exit code."""
    form = Form(arguments.to)
    options = Options(
        one_file=_one_file(arguments, form),
        overwrite=arguments.overwrite,
        dialect=_dialect(arguments),
        zone=arguments.zone,
        haemoglobin=arguments.haemoglobin,
    )
    wish = Wish(frozenset(arguments.athlete), arguments.names)
    recording = named_recording(arguments.recording)
    path = arguments.out or _own_name(recording.path, form, one_file=options.one_file)
    done = export(
        recording, wish, path, opener(form, path, recording.head, wish, options), _progress
    )
    if sys.stderr.isatty():
        print("\r", end="", file=sys.stderr)
    print(f"Wrote {done.path}: {', '.join(rows_in_words(done.rows))}.")
    if wish.names:
        print("It holds names and notes: give it only to who may have them.", file=sys.stderr)
    if done.trouble:
        print(f"{recording.path}: {done.trouble}", file=sys.stderr)
    return 0


def _one_file(arguments: argparse.Namespace, form: Form) -> bool:
    """Say whether one file is asked for: also by a name that is a file's."""
    if arguments.one_file or arguments.per_table:
        return bool(arguments.one_file)
    return arguments.out is not None and arguments.out.suffix == SUFFIXES[form]


def _own_name(recording: Path, form: Form, *, one_file: bool) -> Path:
    """Return a name in the folder people are in, after the recording's."""
    return Path(
        f"{recording.stem}{SUFFIXES[form]}" if one_file else f"{recording.stem}-{form.value}"
    )


def _dialect(arguments: argparse.Namespace) -> Dialect:
    fallback = ";" if arguments.decimal == "," else ","
    separator = arguments.separator or fallback
    return Dialect(arguments.decimal, _SEPARATORS.get(separator, separator))


def _zone(text: str) -> tzinfo:
    try:
        return ZoneInfo(text)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        raise argparse.ArgumentTypeError(
            f"expected a zone such as Europe/Paris or UTC, found {text!r}"
        ) from error


def _progress(text: str) -> None:
    """Write over the last line where somebody watches, and line by line into a file."""
    if sys.stderr.isatty():
        print(f"\r{text} ", end="", file=sys.stderr, flush=True)
    else:
        print(text, file=sys.stderr, flush=True)
