"""Rows of what was marked, one for each value that a mark holds."""

from collections.abc import Iterator
from typing import Final

from livemon.events import Mark, MarkValue
from livemon.exchange.table import Row
from livemon.exchange.who import Who
from livemon.monitor.corrections import MarkBook
from livemon.monitor.mark_fields import FIELDS, MarkKind

#: Texts that say what was done; any other may say anything, also a name.
_SAFE_TEXTS: Final = frozenset({"bout", "work", "site", "sampling_site", "rpe_cr10"})
_KNOWN_KEYS: Final = frozenset(field.key for fields in FIELDS.values() for field in fields)
_KNOWN_KINDS: Final = frozenset(kind.value for kind in MarkKind)


def mark_rows(book: MarkBook, who: Who, *, names: bool) -> Iterator[Row]:
    """Yield the rows of `tables.MARKS`; free texts only where `names` are asked for."""
    for one in book.standing:
        athlete = one.mark.athlete
        if athlete is not None and not who.wanted(athlete):
            continue
        name = None if athlete is None else who.name(athlete)
        kind = kind_of(one.mark, names=names)
        front = (one.t_ns, athlete, name, one.first, kind)
        said = tuple(said_of(one.mark, names=names))
        for key, value in said:
            number = None if isinstance(value, str) else value
            yield (*front, key, number, value if isinstance(value, str) else None)
        if not said:
            yield (*front, None, None, None)


def kind_of(mark: Mark, *, names: bool) -> str:
    """Return the mark's kind; one that livemon doesn't know may say anything."""
    return mark.kind if names or mark.kind in _KNOWN_KINDS else "other"


def said_of(mark: Mark, *, names: bool) -> Iterator[tuple[str, MarkValue]]:
    """Yield what is known of the mark's details; free texts only where `names` are asked for."""
    for key, value in mark.details:
        safe = key in (_SAFE_TEXTS if isinstance(value, str) else _KNOWN_KEYS)
        if value is not None and (safe or names):
            yield key, value
