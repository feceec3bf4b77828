"""Export one athlete's part of a recording from the Bouts page: a file, without names and notes."""

from collections.abc import Callable
from pathlib import Path
from typing import Final

from livemon.app.export_format import SUFFIXES, Options, opener
from livemon.app.export_run import export, rows_in_words
from livemon.errors import UsageError
from livemon.exchange.csv_dialect import Dialect
from livemon.exchange.rows import Wish
from livemon.record.reader import open_recording
from livemon.tongue import said

_FORMS: Final = {suffix: form for form, suffix in SUFFIXES.items()}


def check_place(path: Path) -> None:
    """See to it that an export may go there.

    Raises:
        UsageError: something is there already, or the name says no format.
    """
    if path.suffix.lower() not in _FORMS:
        raise UsageError(
            said(
                "{file}: give it a name that ends in {endings}",
                file=path.name,
                endings=", ".join(_FORMS),
            )
        )
    if path.exists():
        raise UsageError(said("{file} is there already; choose another name", file=path.name))


def export_athlete(
    recording: Path, athlete: str, path: Path, progress: Callable[[str], object]
) -> str:
    """Write what the recording holds of the athlete; return what was written, in words.

    Raises:
        UsageError: as for `check_place`; a library is missing; it can't be written.
        RecordingError: the recording can't be read.
    """
    check_place(path)
    opened = open_recording(recording)
    wish = Wish(frozenset({athlete}), names=False)
    options = Options(
        one_file=True, overwrite=False, dialect=Dialect(".", ","), zone=None, haemoglobin=False
    )
    form = _FORMS[path.suffix.lower()]
    done = export(
        opened, wish, path, opener(form, path, opened.head, wish, options), progress, processes=1
    )
    trouble = f" {done.trouble}" if done.trouble else ""
    rows = ", ".join(rows_in_words(done.rows))  # tables are called as in the file: English
    return said("Wrote {file}: {rows}; no names.", file=path.name, rows=rows) + trouble
