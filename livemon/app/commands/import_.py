"""`livemon import`: a CSV file of somebody else's as a recording, for analysis and replay."""

import argparse
import sys
from pathlib import Path

from livemon.errors import ConfigError, UsageError
from livemon.exchange.imported import import_csv
from livemon.exchange.mapping import parse_mapping
from livemon.record.at_once import write_recording
from livemon.record.disk import words
from livemon.record.place import SUFFIX


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what can stand behind the command."""
    parser.add_argument("file", metavar="FILE", type=Path, help="a CSV file with a header line")
    parser.add_argument(
        "--mapping", required=True, metavar="FILE", type=Path, help="which column means what (TOML)"
    )
    parser.add_argument(
        "--out", required=True, metavar="FILE", type=Path, help=f"the recording, name{SUFFIX}"
    )
    parser.add_argument("--overwrite", action="store_true", help="write over what is there")


def run(arguments: argparse.Namespace) -> int:
    """Do it; return the exit code."""
    out: Path = arguments.out
    if out.suffix != SUFFIX:
        raise UsageError(f"--out: expected a name that ends in {SUFFIX}, found {out.name!r}.")
    if out.exists() and not arguments.overwrite:
        raise UsageError(f"{out} is there already; --overwrite writes over it.")
    mapping = parse_mapping(_text(arguments.mapping), str(arguments.mapping))
    imported = import_csv(_text(arguments.file), mapping, str(arguments.file))
    write_recording(out, imported.head, imported.events)
    print(f"Wrote {out}: {len(imported.events):,} events.")
    for reason, count in imported.skipped.items():
        print(f"Left out: {count:,} {reason}.", file=sys.stderr)
    return 0


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except OSError as error:
        raise ConfigError(str(path), "", words(error)) from error
    except UnicodeDecodeError as error:
        raise ConfigError(str(path), "", "expected UTF-8 text; save it as CSV UTF-8") from error
