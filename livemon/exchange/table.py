"""What a table is: named columns with kind, unit and meaning. Rows are plain tuples in their order.

What is not known is None in a row; how a format says that is the format's own business.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from enum import Enum

#: A moment is an integer of nanoseconds since the session began.
Cell = str | int | float | bool | None
Row = tuple[Cell, ...]


class Kind(Enum):
    """What stands in a column."""

    MOMENT = "moment"  #: nanoseconds since the session began
    NUMBER = "number"
    WHOLE = "whole number"
    TEXT = "text"
    FLAG = "flag"  #: yes or no


@dataclass(frozen=True, slots=True)
class Column:
    """One column.

    Attributes:
        name: with the unit at its end, if it has one; a moment is named without: formats write it
            as several columns.
        unit: as people write it; empty for counts, texts and moments.
        measured: a quantity that a long list of values has to have; the rest is bookkeeping.
        unit_from: the column that holds this one's unit, where sensors differ.
        personal: only written where names are asked for.
    """

    name: str
    kind: Kind
    about: str
    unit: str = ""
    measured: bool = False
    unit_from: str = ""
    personal: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """Columns under one name; the first is always a moment."""

    name: str
    about: str
    columns: tuple[Column, ...]
    places: dict[str, int] = field(init=False, repr=False, compare=False, hash=False)

    def __post_init__(self) -> None:
        """Number the columns."""
        places = {column.name: place for place, column in enumerate(self.columns)}
        object.__setattr__(self, "places", places)

    @property
    def names(self) -> tuple[str, ...]:
        """Names of the columns."""
        return tuple(column.name for column in self.columns)


def without_names(table: Table) -> tuple[Table, Callable[[Row], Row]]:
    """Return `table` without its personal columns, and what takes them out of a row."""
    kept = [place for place, column in enumerate(table.columns) if not column.personal]
    if len(kept) == len(table.columns):
        return table, _as_it_is
    shorter = replace(table, columns=tuple(table.columns[place] for place in kept))
    return shorter, lambda row: tuple([row[place] for place in kept])


def _as_it_is(row: Row) -> Row:
    return row
