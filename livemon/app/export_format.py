"""The formats of an export, and what opens each."""

from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import tzinfo
from enum import Enum
from pathlib import Path
from types import MappingProxyType
from typing import Final

from livemon.app.export_csv import csv_file, csv_folder
from livemon.app.export_run import OpenSink, Sink
from livemon.events import Head
from livemon.exchange.csv_dialect import Dialect
from livemon.exchange.rows import Wish
from livemon.exchange.stamps import Stamps


class Form(Enum):
    """What a recording can be written as."""

    CSV = "csv"


#: How the name of a file ends.
FORMATS: Final = MappingProxyType({Form.CSV: ".csv"})


@dataclass(frozen=True, slots=True)
class Options:
    """How it is to be written.

    Attributes:
        one_file: one file and not a folder.
        overwrite: over what is there.
        zone: of local times; None for this computer's own.
        haemoglobin: SNIRF as HbO and HbR.
    """

    one_file: bool
    overwrite: bool
    dialect: Dialect
    zone: tzinfo | None
    haemoglobin: bool


def opener(form: Form, path: Path, head: Head, wish: Wish, options: Options) -> OpenSink:
    """Return what opens `path` for rows of one recording."""
    stamps = Stamps(head.started_utc, options.zone, options.dialect.decimal)

    def open_csv() -> AbstractContextManager[Sink]:
        if options.one_file:
            return csv_file(
                path, options.dialect, stamps, names=wish.names, overwrite=options.overwrite
            )
        return csv_folder(path, options.dialect, stamps, overwrite=options.overwrite)

    return open_csv
