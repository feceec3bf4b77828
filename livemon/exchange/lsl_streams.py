"""A live session as streams for the Lab Streaming Layer: what each is called, holds and says.

One stream for each athlete, sensor, site and kind of reading; it begins with the first reading,
because only then its units are known. Values are numbers: what is not known is NaN, as a stream of
doubles has no other way to say it. Nothing here sends anything.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from math import nan
from typing import Final

from livemon.events import Event, Head
from livemon.exchange.readings import Readings
from livemon.exchange.table import Cell, Column, Kind, Row, Table
from livemon.exchange.tables import HEART_RATE, INTENSITY, OXYGENATION, RR_INTERVALS, SPO2
from livemon.exchange.who import Who

_NS_PER_S: Final = 1e9
_STREAMED: Final = frozenset(
    table.name for table in (OXYGENATION, HEART_RATE, RR_INTERVALS, INTENSITY, SPO2)
)
_NUMBERS: Final = frozenset({Kind.NUMBER, Kind.WHOLE, Kind.FLAG})


@dataclass(frozen=True, slots=True)
class StreamChannel:
    """One channel: its name with the unit at the end, the unit alone, and what it means."""

    label: str
    unit: str
    about: str


@dataclass(frozen=True, slots=True)
class Stream:
    """What a stream says of itself.

    Attributes:
        name: for people; holds no athlete's name unless that was asked for.
        kind: its content type.
        source: the same whenever the same sensor is read for the same athlete and site.
        channels: in order; none for the stream of markers, which is text.
        facts: further pairs of key and text.
    """

    name: str
    kind: str
    source: str
    channels: tuple[StreamChannel, ...]
    facts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Sent:
    """One sample of a stream; `values` is one text in the stream of markers."""

    stream: Stream
    t_ns: int
    values: tuple[float, ...] | tuple[str]


@dataclass(frozen=True, slots=True)
class Origin:
    """What all streams of a session say alike.

    Attributes:
        replayed: the session is a recording that is played again, and not live.
        names: whether athletes' names are told.
    """

    session: str
    started_utc: str
    replayed: bool = False
    names: bool = False

    @property
    def front(self) -> str:
        """What source ids begin with: a replay is never taken for the live session."""
        return f"livemon/replay/{self.session}" if self.replayed else "livemon"

    @property
    def facts(self) -> tuple[tuple[str, str], ...]:
        """Facts for a stream's description."""
        return (
            ("session", self.session),
            ("session_started_utc", self.started_utc),
            ("replayed", "yes" if self.replayed else "no"),
        )


class ReadingStreams:
    """Turns a session's events into samples of streams."""

    __slots__ = ("_known", "_origin", "_readings", "_who")

    def __init__(self, head: Head, origin: Origin) -> None:
        self._origin = origin
        self._who = Who(head)
        self._readings = Readings(head, self._who)
        self._known: dict[tuple[Cell, ...], Stream] = {}

    def samples(self, event: Event) -> Iterator[Sent]:
        """Yield what `event` gives; events come in order."""
        self._who.take(event)
        for table, row in self._readings.rows(event):
            if table.name in _STREAMED:
                t_ns = row[0]
                assert isinstance(t_ns, int)  # a table's first column is always a moment
                yield Sent(self._stream(table, row), t_ns, _values(table, row, t_ns))

    def _stream(self, table: Table, row: Row) -> Stream:
        texts = tuple(row[place] for place in _texts(table))
        key = (table.name, *texts)
        if not self._origin.names:
            key = (table.name, *(row[place] for place in _texts(table, personal=False)))
        known = self._known.get(key)
        if known is None:
            known = self._known[key] = _described(table, row, self._origin)
        return known


def _described(table: Table, row: Row, origin: Origin) -> Stream:
    said = {
        column.name: str(cell)
        for column, cell in zip(table.columns, row, strict=True)
        if column.kind is Kind.TEXT and column.name != "refused" and cell is not None
        if not column.name.endswith("_unit") and (origin.names or not column.personal)
    }
    what = table.name.replace("_", " ")
    who = said.get("athlete_name") or said["athlete"]
    words = ("livemon replay" if origin.replayed else "livemon", what, who, said.get("site", ""))
    ids = (table.name, said["athlete"], said.get("site", ""), said["sensor"])
    return Stream(
        " ".join(word for word in words if word),
        table.name,
        "/".join((origin.front, *(part for part in ids if part))),
        tuple(_channels(table, row)),
        (*said.items(), *origin.facts),
    )


def _channels(table: Table, row: Row) -> Iterator[StreamChannel]:
    yield StreamChannel("session_s", "s", "arrival, in seconds since the session began")
    for place in _numbers(table):
        column = table.columns[place]
        yield StreamChannel(column.name, _unit(column, table, row), column.about)
    if "refused" in table.places:
        yield StreamChannel("used", "", "1 where livemon uses the reading, 0 where it refuses it")


def _unit(column: Column, table: Table, row: Row) -> str:
    if not column.unit_from:
        return column.unit
    return str(row[table.places[column.unit_from]] or "")


def _values(table: Table, row: Row, t_ns: int) -> tuple[float, ...]:
    values = [t_ns / _NS_PER_S]
    for place in _numbers(table):
        cell = row[place]
        values.append(nan if cell is None or isinstance(cell, str) else float(cell))
    if (refused := table.places.get("refused")) is not None:
        values.append(float(row[refused] is None))
    return tuple(values)


@cache
def _numbers(table: Table) -> tuple[int, ...]:
    """Return the places of what a stream holds."""
    return tuple(place for place, one in enumerate(table.columns) if one.kind in _NUMBERS)


@cache
def _texts(table: Table, *, personal: bool = True) -> tuple[int, ...]:
    """Return the places of what tells streams of one table apart, units among it."""
    return tuple(
        place
        for place, one in enumerate(table.columns)
        if one.kind is Kind.TEXT and one.name != "refused" and (personal or not one.personal)
    )
