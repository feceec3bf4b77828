"""A CSV file, by its mapping, as the head and events of a recording.

What can't be used is left out and counted, never guessed: cells that are no numbers, rows without a
time, values that no sensor could send.
"""

import csv
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from io import StringIO
from itertools import groupby
from math import isfinite
from typing import Final
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from livemon.errors import ConfigError
from livemon.events import End, Event, Head, LinkUp, Notification
from livemon.exchange.clocks import time_reader
from livemon.exchange.csv_dialect import original
from livemon.exchange.imported_kit import Source, kit_of
from livemon.exchange.imported_marks import phase_marks, stretch_marks
from livemon.exchange.imported_packets import one_by_one
from livemon.exchange.mapping import Mapping, Quantity, Series
from livemon.exchange.stamps import started

#: How files say "not known", beside an empty cell.
_NOT_KNOWN: Final = frozenset({"", "-", "--", "na", "n/a", "nan", "null", "none"})
_US_PER_S: Final = 1_000_000
_NS_PER_US: Final = 1000


@dataclass(frozen=True, slots=True, eq=False)
class Imported:
    """What became of the file.

    Attributes:
        skipped: how often something could not be used, by reason.
    """

    head: Head
    events: tuple[Event, ...]
    skipped: Counter[str] = field(default_factory=Counter)


def import_csv(text: str, mapping: Mapping, where: str) -> Imported:
    """Return the recording that `text` stands for; `where` names the file in messages.

    Raises:
        ConfigError: the file has no such columns, or no row that can be used.
    """
    lines = StringIO(text.removeprefix("\ufeff"), newline="")
    reader = csv.reader(lines, delimiter=mapping.separator)
    try:
        rows = _Rows(mapping, next(reader, []), where)
        timed = sorted(rows.timed(reader), key=lambda row: row[0])
    except csv.Error as error:
        raise ConfigError(where, f"line {reader.line_num}", f"not CSV: {error}") from error
    if not timed:
        raise ConfigError(where, "", "no row has a time that can be read; is the format right?")
    begin_ns, started_utc = _begin(mapping, timed[0][0], where)
    kit = kit_of(mapping)
    events: list[Event] = [LinkUp(0, source.sensor.sensor) for source in kit.sources]
    for at_ns, together in groupby(timed, key=lambda row: row[0]):
        lines_then = [cells for _, cells in together]
        events += rows.notifications(at_ns - begin_ns, lines_then, kit.sources)
    if len(events) == len(kit.sources):
        raise ConfigError(where, "", "no cell of the mapped columns holds a number")
    end_ns = timed[-1][0] - begin_ns
    if mapping.phases is not None:
        place = rows.place(mapping.phases.column)
        named = [(at_ns - begin_ns, _cell(cells, place)) for at_ns, cells in timed]
        events += phase_marks(named, mapping.phases, end_ns)
    events += stretch_marks(mapping.stretches)
    events.sort(key=lambda event: event.t_ns)
    events.append(End(max(end_ns, events[-1].t_ns)))
    session = sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:8]
    return Imported(kit.head(started_utc, session), tuple(events), rows.skipped)


class _Rows:
    """Reads rows by the names in the file's first line."""

    __slots__ = ("_mapping", "_places", "_where", "skipped")

    def __init__(self, mapping: Mapping, header: list[str], where: str) -> None:
        self._mapping, self._where = mapping, where
        self._places = {name.strip(): place for place, name in enumerate(header)}
        self.skipped: Counter[str] = Counter()
        self.place(mapping.time_column)
        for one in mapping.series:
            for column in (one.column, *(name for name, _ in one.where)):
                self.place(column)

    def place(self, column: str) -> int:
        """Return where a column stands.

        Raises:
            ConfigError: there is none of this name.
        """
        place = self._places.get(column)
        if place is None:
            there = ", ".join(self._places) or "none"
            raise ConfigError(self._where, "line 1", f"no column {column!r}; it has {there}")
        return place

    def timed(self, rows: Iterable[list[str]]) -> Iterator[tuple[int, list[str]]]:
        """Yield each row with its time, as the file counts it."""
        zone = None if self._mapping.zone is None else _zone(self._mapping.zone, self._where)
        read = time_reader(self._mapping.clock, self._mapping.decimal, zone)
        place = self.place(self._mapping.time_column)
        for cells in rows:
            if not any(cells):
                continue
            at_ns = read(_cell(cells, place))
            if at_ns is None:
                self.skipped["rows without a time that can be read"] += 1
            else:
                yield at_ns, cells

    def notifications(
        self, t_ns: int, rows: Sequence[list[str]], sources: Iterable[Source]
    ) -> Iterator[Event]:
        """Yield what each sensor sent at one moment, for which several rows may stand."""
        for source in sources:
            told: dict[Quantity, list[float]] = {}
            for one in source.series:
                values = [value for cells in rows for value in self._values(one, cells)]
                if values:
                    told[one.quantity] = values
            for packet in map(source.packet, one_by_one(told)):
                if packet is None:
                    self.skipped["values that no sensor could send"] += 1
                else:
                    yield Notification(t_ns, source.sensor.sensor, *packet)

    def _values(self, one: Series, cells: list[str]) -> Iterator[float]:
        if any(_cell(cells, self.place(name)) != said for name, said in one.where):
            return
        number = self._number(_cell(cells, self.place(one.column)))
        if number is not None:
            yield number * one.factor

    def _number(self, cell: str) -> float | None:
        text = cell.strip()
        if text.lower() in _NOT_KNOWN:
            return None
        try:
            number = float(text.replace(self._mapping.decimal, "."))
        except ValueError:
            number = float("inf")
        if isfinite(number):
            return number
        self.skipped["cells that are no numbers"] += 1
        return None


def _cell(cells: list[str], place: int) -> str:
    return original(cells[place]) if place < len(cells) else ""


def _begin(mapping: Mapping, first_ns: int, where: str) -> tuple[int, str]:
    """Return the file's time at which the recording begins, and the wall clock then."""
    if mapping.clock.has_date:
        begun = datetime.fromtimestamp(0, UTC) + timedelta(microseconds=first_ns // _NS_PER_US)
        return first_ns // _NS_PER_US * _NS_PER_US, begun.isoformat()
    begun_at = started(mapping.started or "")
    if begun_at is None:
        found = f"expected ISO 8601 with an offset, found {mapping.started!r}"
        raise ConfigError(where, "started", found)
    # Times before 0 would be lost: the recording then begins with the first of them.
    lead_us = min(0, first_ns // _NS_PER_US)
    return lead_us * _NS_PER_US, (begun_at + timedelta(microseconds=lead_us)).isoformat()


def _zone(name: str, where: str) -> ZoneInfo:
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        raise ConfigError(where, "time.zone", f"no zone is called {name!r}") from error
