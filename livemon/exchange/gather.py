"""Rows gathered into columns: eight bytes a cell while they come, arrays in the end."""

from array import array
from collections.abc import Callable
from math import nan
from typing import Any

import numpy as np

from livemon.exchange.columns import Array, Columns, seconds
from livemon.exchange.table import Cell, Column, Kind, Row, Table


class Gathered:
    """Takes rows of all tables, and gives each table's columns."""

    __slots__ = ("_tables",)

    def __init__(self) -> None:
        self._tables: dict[str, tuple[Table, tuple[Callable[[Any], None], ...], list[_Cells]]] = {}

    def put(self, table: Table, row: Row) -> None:
        """Take one row."""
        known = self._tables.get(table.name)
        if known is None:
            cells = [_Cells(column) for column in table.columns]
            known = self._tables[table.name] = (table, tuple(one.adder() for one in cells), cells)
        for add, cell in zip(known[1], row, strict=True):
            add(cell)

    def close(self) -> None:
        """Nothing is left to be written."""

    def columns(self, table: Table) -> Columns:
        """Return one table; without rows, where nothing came."""
        table, _, cells = self._tables.get(table.name) or (
            table,
            (),
            [_Cells(column) for column in table.columns],
        )
        arrays: dict[str, Array] = {}
        units: dict[str, str] = {}
        about: dict[str, str] = {}
        for column, one in zip(table.columns, cells, strict=True):
            if column.kind is Kind.MOMENT:
                t_ns = one.array()
                stem = "t" if column.name == "time" else column.name
                named = {f"{stem}_ns": (t_ns, "ns"), f"{stem}_s": (seconds(t_ns), "s")}
            else:
                named = {column.name: (one.array(), column.unit)}
            for name, (values, unit) in named.items():
                arrays[name], units[name], about[name] = values, unit, column.about
        return Columns(table.name, arrays, units, about)


class _Cells:
    """One column on its way."""

    __slots__ = ("_codes", "_column", "_numbers")

    def __init__(self, column: Column) -> None:
        self._column = column
        # Texts come again and again: each is kept once, and its place in the order of coming.
        self._codes: dict[Cell, int] = {}
        match column.kind:
            case Kind.MOMENT:
                self._numbers: array[Any] = array("q")
            case Kind.NUMBER | Kind.WHOLE:
                self._numbers = array("d")
            case _:
                self._numbers = array("l")

    def adder(self) -> Callable[[Any], None]:
        """Return what takes one cell."""
        append, codes = self._numbers.append, self._codes
        match self._column.kind:
            case Kind.MOMENT:
                return append
            case Kind.NUMBER | Kind.WHOLE:
                return lambda cell: append(nan if cell is None else cell)
        return lambda cell: append(codes.setdefault(cell, len(codes)))

    def array(self) -> Array:
        """Return the column."""
        match self._column.kind:
            case Kind.MOMENT:
                return np.array(self._numbers, dtype=np.int64)
            case Kind.NUMBER | Kind.WHOLE:
                return np.array(self._numbers, dtype=np.float64)
        known = np.empty(len(self._codes), dtype=object)
        known[:] = list(self._codes)
        return known[np.array(self._numbers, dtype=np.intp)]
