"""`livemon sheet`: one page for the athlete, in plain words, with pictures."""

import argparse
import sys
from collections.abc import Iterable
from pathlib import Path

from livemon.analyse.session import analyse_athlete
from livemon.app.bouts_read import names_in
from livemon.app.commands.bouts import add_analysis_options, chosen_records
from livemon.app.day_words import day_and_time
from livemon.app.find_recording import named_recording
from livemon.app.new_file import write_new, write_new_by
from livemon.app.sheet_pdf import write_pdf
from livemon.errors import UsageError
from livemon.report.paper import sheet_paper
from livemon.report.sheet import Heading, sheet_html
from livemon.tongue import LANGUAGES, speak, wished


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what can stand behind the command."""
    parser.add_argument("recording", metavar="RECORDING", help="a file, or its name in the library")
    parser.add_argument(
        "--to", required=True, metavar="FILE", type=Path, help="sheet.html, or sheet.pdf"
    )
    add_analysis_options(parser)
    parser.add_argument("--note", default="", metavar="TEXT", help="your own words to the athlete")
    parser.add_argument("--replace", action="store_true", help="write over a file that is there")


def run(arguments: argparse.Namespace, languages: Path = LANGUAGES) -> int:
    """Do it; return the exit code."""
    kind = arguments.to.suffix.lower()
    if kind not in {".html", ".htm", ".pdf"}:
        raise UsageError(
            f"--to: expected a name that ends in .html or .pdf, found {arguments.to.name!r}."
        )
    recording = named_recording(arguments.recording)
    if arguments.athlete is None and len(recording.head.athletes) > 1:
        raise _name_one(names_in(recording.head))
    records = chosen_records(recording, arguments)
    if len(records) > 1:
        raise _name_one([record.athlete for record in records])
    speak(wished(languages, damaged=_damaged))  # a sheet is for the athlete
    heading = Heading(
        name=records[0].athlete, when=day_and_time(recording.head.started_utc), note=arguments.note
    )
    analysis = analyse_athlete(records[0])
    if kind == ".pdf":
        write_new_by(
            arguments.to,
            lambda path: write_pdf(path, sheet_paper(heading, records[0], analysis)),
            replace=arguments.replace,
        )
    else:
        page = sheet_html(heading, records[0], analysis)
        write_new(arguments.to, page, replace=arguments.replace)
    print(f"Wrote {arguments.to}")
    return 0


def _name_one(names: Iterable[str]) -> UsageError:
    there = ", ".join(names)
    return UsageError(f"a sheet is for one athlete; name one with --athlete: {there}.")


def _damaged(language: str) -> None:
    print(f"translation {language} is damaged and not used", file=sys.stderr)
