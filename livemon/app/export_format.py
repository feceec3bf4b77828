"""The formats of an export, and what opens each."""

from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import tzinfo
from enum import Enum
from pathlib import Path
from types import MappingProxyType
from typing import Final

from livemon.app import export_csv, export_parquet, export_snirf
from livemon.app.export_run import OpenSink
from livemon.events import Head
from livemon.exchange.csv_dialect import Dialect
from livemon.exchange.rows import Wish
from livemon.exchange.sink import Sink
from livemon.exchange.stamps import Stamps


class Form(Enum):
    """What a recording can be written as."""

    CSV = "csv"
    PARQUET = "parquet"
    SNIRF = "snirf"


#: How the name of a file ends.
SUFFIXES: Final = MappingProxyType(
    {
        Form.CSV: export_csv.SUFFIX,
        Form.PARQUET: export_parquet.SUFFIX,
        Form.SNIRF: export_snirf.SUFFIX,
    }
)


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
    names, overwrite, begun = wish.names, options.overwrite, head.started_utc

    def open_csv() -> AbstractContextManager[Sink]:
        dialect = options.dialect
        stamps = Stamps(begun, options.zone, dialect.decimal)
        if options.one_file:
            return export_csv.csv_file(path, dialect, stamps, names=names, overwrite=overwrite)
        return export_csv.csv_folder(path, dialect, stamps, overwrite=overwrite)

    def open_parquet() -> AbstractContextManager[Sink]:
        if options.one_file:
            return export_parquet.parquet_file(path, begun, names=names, overwrite=overwrite)
        return export_parquet.parquet_folder(path, begun, overwrite=overwrite)

    def open_snirf() -> AbstractContextManager[Sink]:
        place = export_snirf.snirf_file if options.one_file else export_snirf.snirf_folder
        return place(path, begun, even=options.haemoglobin, overwrite=overwrite)

    return {Form.CSV: open_csv, Form.PARQUET: open_parquet, Form.SNIRF: open_snirf}[form]
