"""Parquet, one file for each table, with each column's unit and meaning in the schema.

A moment is two columns: seconds since the session began, and UTC to the nanosecond. Numbers that
are not known are null.
"""

from collections.abc import Callable
from datetime import datetime
from typing import Any, BinaryIO, Final

from livemon.exchange.extra import needed
from livemon.exchange.moments import moment_names
from livemon.exchange.stamps import epoch_ns, started
from livemon.exchange.table import Column, Kind, Row, Table

#: Rows of a group: some megabytes, as readers like them (the format's own advice is larger, but
#: nobody's session fills it).
_GROUP_ROWS: Final = 65_536

_NS_PER_S: Final = 1e9


def parquet_library() -> tuple[Any, Any]:
    """Return pyarrow and its Parquet part.

    Raises:
        UsageError: pyarrow isn't installed.
    """
    return needed("pyarrow", "livemon[parquet]"), needed("pyarrow.parquet", "livemon[parquet]")


class ParquetTables:
    """Writes rows to the file of their table, which is opened at its first row.

    Args:
        open_file: opens one by the table's name.
        started_utc: the label in the recording's head.
    """

    __slots__ = ("_begun", "_open", "_parts")

    def __init__(self, open_file: Callable[[str], BinaryIO], started_utc: str) -> None:
        parquet_library()
        self._open, self._begun = open_file, started(started_utc)
        self._parts: dict[str, _Part] = {}

    def put(self, table: Table, row: Row) -> None:
        """Take one row."""
        part = self._parts.get(table.name)
        if part is None:
            part = self._parts[table.name] = _Part(table, self._open(table.name), self._begun)
        part.put(row)

    def close(self) -> None:
        """Write what is left and close every file."""
        for part in self._parts.values():
            part.close()


class _Part:
    """One table on its way into its file."""

    __slots__ = ("_begun_ns", "_file", "_pyarrow", "_rows", "_table", "_writer")

    def __init__(self, table: Table, file: BinaryIO, begun: datetime | None) -> None:
        self._pyarrow, parquet = parquet_library()
        self._table, self._file = table, file
        self._begun_ns = None if begun is None else epoch_ns(begun)
        self._rows: list[Row] = []
        self._writer = parquet.ParquetWriter(file, _schema(self._pyarrow, table))

    def put(self, row: Row) -> None:
        self._rows.append(row)
        if len(self._rows) >= _GROUP_ROWS:
            self._flush()

    def close(self) -> None:
        self._flush()
        self._writer.close()
        self._file.close()

    def _flush(self) -> None:
        if not self._rows:
            return
        arrays: list[list[Any]] = []
        for column, cells in zip(self._table.columns, zip(*self._rows, strict=True), strict=True):
            if column.kind is Kind.MOMENT:
                begun_ns = self._begun_ns
                arrays.append([t_ns / _NS_PER_S for t_ns in cells])
                arrays.append([None if begun_ns is None else begun_ns + t_ns for t_ns in cells])
            else:
                arrays.append(list(cells))
        schema = self._writer.schema
        self._writer.write_table(
            self._pyarrow.table(
                [
                    self._pyarrow.array(values, field.type)
                    for values, field in zip(arrays, schema, strict=True)
                ],
                schema=schema,
            )
        )
        self._rows.clear()


def _schema(pyarrow: Any, table: Table) -> Any:  # noqa: ANN401 - pyarrow has no types
    fields: list[Any] = []
    for column in table.columns:
        if column.kind is Kind.MOMENT:
            seconds, utc, _ = moment_names(column.name)
            fields.append(_field(pyarrow, seconds, pyarrow.float64(), "s", column.about))
            fields.append(
                _field(pyarrow, utc, pyarrow.timestamp("ns", tz="UTC"), "UTC", column.about)
            )
        else:
            kind = _type(pyarrow, column)
            fields.append(_field(pyarrow, column.name, kind, column.unit, column.about))
    return pyarrow.schema(fields, metadata={"table": table.name, "about": table.about})


def _field(pyarrow: Any, name: str, kind: Any, unit: str, about: str) -> Any:  # noqa: ANN401 - as above
    return pyarrow.field(name, kind, metadata={"unit": unit, "about": about})


def _type(pyarrow: Any, column: Column) -> Any:  # noqa: ANN401 - as above
    match column.kind:
        case Kind.NUMBER:
            return pyarrow.float64()
        case Kind.WHOLE:
            return pyarrow.int64()
        case Kind.FLAG:
            return pyarrow.bool_()
    return pyarrow.string()
