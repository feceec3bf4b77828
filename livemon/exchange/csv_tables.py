"""CSV, one text for each table: `t_s,time_utc,time_local,athlete,...,smo2_pct,...`."""

from collections.abc import Callable
from typing import TextIO

from livemon.exchange.csv_dialect import Dialect, cell_writer
from livemon.exchange.csv_text import CsvText
from livemon.exchange.moments import moment_names
from livemon.exchange.stamps import Stamps
from livemon.exchange.table import Cell, Kind, Row, Table

#: Opens the text that a name is for.
Open = Callable[[str], TextIO]


class CsvTables:
    """Writes rows to the text of their table, which is opened at its first row.

    Args:
        open_text: opens one by the table's name.
        dialect: decimal sign and separator.
        stamps: writes the session's moments.
    """

    __slots__ = ("_dialect", "_open", "_stamps", "_written")

    def __init__(self, open_text: Open, dialect: Dialect, stamps: Stamps) -> None:
        self._open, self._dialect, self._stamps = open_text, dialect, stamps
        self._written: dict[str, tuple[CsvText, Callable[[Row], str]]] = {}

    def put(self, table: Table, row: Row) -> None:
        """Write one row."""
        known = self._written.get(table.name)
        if known is None:
            known = self._written[table.name] = self._begin(table)
        text, line = known
        text.add(line(row))

    def close(self) -> None:
        """Write what is left and close every text."""
        for text, _ in self._written.values():
            text.close()

    def _begin(self, table: Table) -> tuple[CsvText, Callable[[Row], str]]:
        text = CsvText(self._open(table.name), self._dialect)
        text.add(self._dialect.separator.join(header(table)))
        return text, _line_writer(table, self._dialect, self._stamps)


def header(table: Table) -> list[str]:
    """Return the names of a table's columns in a CSV file, where a moment takes three."""
    names: list[str] = []
    for column in table.columns:
        names += moment_names(column.name) if column.kind is Kind.MOMENT else (column.name,)
    return names


def _line_writer(table: Table, dialect: Dialect, stamps: Stamps) -> Callable[[Row], str]:
    separator = dialect.separator

    def moment(value: Cell) -> str:
        assert isinstance(value, int)
        return separator.join(stamps.write(value))

    writers = [
        moment if column.kind is Kind.MOMENT else cell_writer(column.kind, dialect)
        for column in table.columns
    ]
    return lambda row: separator.join(
        [write(value) for write, value in zip(writers, row, strict=True)]
    )
