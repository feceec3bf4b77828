"""What takes an export's rows, and what turns them into one list on the way."""

from typing import Protocol

from livemon.exchange.long_list import LIST, Values, values_in
from livemon.exchange.table import Row, Table, without_names


class Sink(Protocol):
    """Takes rows."""

    def put(self, table: Table, row: Row) -> None:
        """Take one row."""

    def close(self) -> None:
        """Write what is left."""


class AsList:
    """Hands every value on as a row of its own.

    Args:
        sink: takes them.
        names: whether the rows have names.
    """

    __slots__ = ("_list", "_shorten", "_sink", "_values")

    def __init__(self, sink: Sink, *, names: bool) -> None:
        self._sink = sink
        self._values: dict[str, Values] = {}
        self._list, self._shorten = LIST, None
        if not names:
            self._list, self._shorten = without_names(LIST)

    def put(self, table: Table, row: Row) -> None:
        """Hand on the values of one row."""
        values = self._values.get(table.name)
        if values is None:
            values = self._values[table.name] = values_in(table)
        for value in values(row):
            self._sink.put(self._list, self._shorten(value) if self._shorten else value)

    def close(self) -> None:
        """Write what is left."""
        self._sink.close()
