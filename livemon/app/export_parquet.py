"""Where Parquet rows go: a folder with one file for each table, or one file."""

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import BinaryIO, Final

from livemon.app.export_place import fresh_file, fresh_folder
from livemon.exchange.parquet import ParquetTables, parquet_library
from livemon.exchange.sink import AsList

SUFFIX: Final = ".parquet"


@contextmanager
def parquet_folder(path: Path, started_utc: str, *, overwrite: bool) -> Iterator[ParquetTables]:
    """Hand out what writes a file for each table into the new folder `path`."""
    parquet_library()  # before anything is made that would have to be taken away again
    with fresh_folder(path, SUFFIX, overwrite=overwrite) as folder, ExitStack() as files:

        def open_table(name: str) -> BinaryIO:
            return files.enter_context((folder / f"{name}{SUFFIX}").open("xb"))

        yield ParquetTables(open_table, started_utc)


@contextmanager
def parquet_file(path: Path, started_utc: str, *, names: bool, overwrite: bool) -> Iterator[AsList]:
    """Hand out what writes every value into the new file `path`."""
    parquet_library()
    with fresh_file(path, overwrite=overwrite) as fresh, fresh.open("xb") as file:
        yield AsList(ParquetTables(lambda _: file, started_utc), names=names)
