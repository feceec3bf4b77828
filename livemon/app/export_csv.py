"""Where CSV rows go: a folder with one file for each table, or one file."""

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Final, TextIO

from livemon.app.export_place import fresh_file, fresh_folder
from livemon.exchange.csv_dialect import Dialect
from livemon.exchange.csv_tables import CsvTables
from livemon.exchange.sink import AsList
from livemon.exchange.stamps import Stamps

SUFFIX: Final = ".csv"


def open_new_text(path: Path) -> TextIO:
    """Open a new file for CSV: line ends are our own (RFC 4180)."""
    return path.open("x", encoding="utf-8", newline="")


@contextmanager
def csv_folder(
    path: Path, dialect: Dialect, stamps: Stamps, *, overwrite: bool
) -> Iterator[CsvTables]:
    """Hand out what writes a file for each table into the new folder `path`."""
    with fresh_folder(path, SUFFIX, overwrite=overwrite) as folder, ExitStack() as files:

        def open_table(name: str) -> TextIO:
            return files.enter_context(open_new_text(folder / f"{name}{SUFFIX}"))

        yield CsvTables(open_table, dialect, stamps)


@contextmanager
def csv_file(
    path: Path, dialect: Dialect, stamps: Stamps, *, names: bool, overwrite: bool
) -> Iterator[AsList]:
    """Hand out what writes every value into the new file `path`."""
    with fresh_file(path, overwrite=overwrite) as fresh, open_new_text(fresh) as file:
        yield AsList(CsvTables(lambda _: file, dialect, stamps), names=names)
