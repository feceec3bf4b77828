"""CSV, everything in one text: a row for each value, with its quantity and unit.

    t_s,time_utc,time_local,athlete,table,source,quantity,value,unit,words

What the live session refused, and a packet's bookkeeping, is not among it; the tables have that.
"""

from collections.abc import Iterator
from typing import Final, TextIO

from livemon.exchange.csv_dialect import Dialect, cell_writer, text_writer
from livemon.exchange.csv_text import CsvText
from livemon.exchange.moments import moment_names
from livemon.exchange.stamps import Stamps
from livemon.exchange.table import Cell, Column, Kind, Row, Table

#: Which columns tell where a value comes from; the first that a table has counts.
_SOURCES: Final = ("site", "sensor", "phase", "mark")

#: Which tell in words what a row is about; the first that a table has.
_WORDS: Final = ("work", "priority", "source")

_NS_PER_S: Final = 1e9


class CsvList:
    """Writes the values of every row to one text.

    Args:
        file: where to.
        dialect: decimal sign and separator.
        stamps: writes the session's moments.
        names: whether there is a column for names.
    """

    __slots__ = ("_names", "_number", "_separator", "_stamps", "_text", "_word")

    def __init__(self, file: TextIO, dialect: Dialect, stamps: Stamps, *, names: bool) -> None:
        self._separator, self._stamps, self._names = dialect.separator, stamps, names
        self._number, self._word = cell_writer(Kind.NUMBER, dialect), text_writer(dialect)
        self._text = CsvText(file, dialect)
        who = ("athlete", "athlete_name") if names else ("athlete",)
        self._text.add(
            self._separator.join(
                (*moment_names("time"), *who, "table", "source", "quantity", "value", "unit",
                 "words")
            )
        )  # fmt: skip

    def put(self, table: Table, row: Row) -> None:
        """Write the values of one row."""
        at = table.places
        if "refused" in at and row[at["refused"]] is not None:
            return
        moment = row[0]
        assert isinstance(moment, int)
        word, separator = self._word, self._separator
        who = ("athlete", "athlete_name") if self._names else ("athlete",)
        front = separator.join(
            (
                *self._stamps.write(moment),
                *(word(_cell(table, row, name)) for name in who),
                table.name,
                word(next((row[at[name]] for name in _SOURCES if name in at), None)),
            )
        )
        for quantity, value, unit, words in _values(table, row):
            self._text.add(
                separator.join(
                    (front, word(quantity), self._number(value), word(unit), word(words))
                )
            )

    def close(self) -> None:
        """Write what is left and close the text."""
        self._text.close()


def _cell(table: Table, row: Row, name: str) -> Cell:
    place = table.places.get(name)
    return None if place is None else row[place]


def _values(table: Table, row: Row) -> Iterator[tuple[Cell, Cell, Cell, Cell]]:
    """Yield quantity, value, unit and words of everything that a row measures."""
    if "key" in table.places:  # a mark's row is one value already
        yield (
            _cell(table, row, "key") or _cell(table, row, "kind"),
            _cell(table, row, "value"),
            None,
            _cell(table, row, "words") or _cell(table, row, "kind"),
        )
        return
    words = next((_cell(table, row, name) for name in _WORDS if name in table.places), None)
    for column, value in zip(table.columns, row, strict=True):
        if column.measured and value is not None:
            yield column.name, value, _unit(column, table, row), words


def _unit(column: Column, table: Table, row: Row) -> Cell:
    return _cell(table, row, column.unit_from) if column.unit_from else column.unit
