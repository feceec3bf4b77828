"""Everything in one table: a row for each value, with its quantity and unit.

What the live session refused, and a packet's bookkeeping, is not among it; the tables have that.
"""

from collections.abc import Callable, Iterator
from typing import Final

from livemon.exchange.table import Cell, Column, Kind, Row, Table

LIST: Final = Table(
    "values",
    "a row for each value",
    (
        Column("time", Kind.MOMENT, "arrival of a reading; beginning of a bout or warning"),
        Column("athlete", Kind.TEXT, "id of whom it is about"),
        Column("athlete_name", Kind.TEXT, "name of whom it is about", personal=True),
        Column("table", Kind.TEXT, "which table holds it otherwise"),
        Column("source", Kind.TEXT, "muscle site, sensor, phase of a bout, or id of a mark"),
        Column("quantity", Kind.TEXT, "what the value is, with its unit at the end"),
        Column("value", Kind.NUMBER, "the value", measured=True, unit_from="unit"),
        Column("unit", Kind.TEXT, "unit of the value"),
        Column("words", Kind.TEXT, "what is said beside it: kind of work, priority"),
    ),
)

#: Which columns tell where a value comes from; the first that a table has counts.
_SOURCES: Final = ("site", "sensor", "phase", "mark")

#: Which tell in words what a row is about; likewise.
_WORDS: Final = ("work", "priority", "source")

Values = Callable[[Row], Iterator[Row]]


def values_in(table: Table) -> Values:
    """Return what makes rows of LIST, with its names, out of rows of `table`."""
    at = table.places
    refused, key = at.get("refused"), at.get("key")
    who = (at.get("athlete"), at.get("athlete_name"))
    source, words = _first(table, _SOURCES), _first(table, _WORDS)
    measured = [
        (place, column.name, column.unit, at.get(column.unit_from))
        for place, column in enumerate(table.columns)
        if column.measured
    ]

    def values(row: Row) -> Iterator[Row]:
        if refused is not None and row[refused] is not None:
            return
        front = (row[0], *(_cell(row, place) for place in who), table.name, _cell(row, source))
        if key is not None:  # a mark's row is one value already
            kind, value, said = row[at["kind"]], row[at["value"]], row[at["words"]]
            yield (*front, row[key] or kind, value, None, said or kind)
            return
        for place, name, unit, unit_at in measured:
            if row[place] is not None:
                own_unit = unit or None if unit_at is None else row[unit_at]
                yield (*front, name, row[place], own_unit, _cell(row, words))

    return values


def _first(table: Table, names: tuple[str, ...]) -> int | None:
    return next((table.places[name] for name in names if name in table.places), None)


def _cell(row: Row, place: int | None) -> Cell:
    return None if place is None else row[place]
