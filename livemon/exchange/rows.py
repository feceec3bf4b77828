"""All rows of an export, in one pass over a recording's events.

Readings come in the order of arrival; then bouts, marks and warnings, which corrections entered
later may have changed.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from livemon.events import Event, Head, Mark
from livemon.exchange.alerts import warning_rows
from livemon.exchange.marked import mark_rows
from livemon.exchange.readings import Placed, Readings
from livemon.exchange.stretches import bout_rows
from livemon.exchange.table import Row, Table, without_names
from livemon.exchange.tables import BOUTS, MARKS, WARNINGS
from livemon.exchange.who import Who
from livemon.monitor.changes import Change
from livemon.monitor.corrections import MarkBook

Told = Iterable[tuple[str, Change]]


@dataclass(frozen=True, slots=True)
class Wish:
    """What is to be exported.

    Attributes:
        only: ids or names of athletes; empty for everybody.
        names: whether names and notes are written, too.
    """

    only: frozenset[str] = frozenset()
    names: bool = False


def rows_of(
    head: Head, events: Iterable[Event], wish: Wish, told: Callable[[], Told]
) -> Iterator[Placed]:
    """Yield every row with its table.

    Args:
        head: of the recording.
        events: its events, in order.
        wish: what is asked for.
        told: gives what a session said that was fed the same events; asked for at the end.

    Raises:
        UsageError: nobody is called as `wish` says.
        AdapterError: the recording holds an adapter that can't be read.
    """
    placed = _all_of(head, events, wish, told)
    if wish.names:
        yield from placed
        return
    shortened: dict[str, tuple[Table, Callable[[Row], Row]]] = {}
    for table, row in placed:
        known = shortened.get(table.name)
        if known is None:
            known = shortened[table.name] = without_names(table)
        shorter, shorten = known
        yield shorter, shorten(row)


def _all_of(
    head: Head, events: Iterable[Event], wish: Wish, told: Callable[[], Told]
) -> Iterator[Placed]:
    who, book, end_ns = Who(head, wish.only), MarkBook(), 0
    readings = Readings(head, who)
    for event in events:
        end_ns = max(end_ns, event.t_ns)
        if isinstance(event, Mark):
            book.add(event)
        who.take(event)
        yield from readings.rows(event)
    who.demand_all()
    yield from ((BOUTS, row) for row in bout_rows(book, who, end_ns))
    yield from ((MARKS, row) for row in mark_rows(book, who, names=wish.names))
    yield from ((WARNINGS, row) for row in warning_rows(told(), who, end_ns))
