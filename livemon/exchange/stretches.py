"""Rows of bouts, recoveries and warm-ups, with what was noted about each."""

from collections.abc import Iterator
from typing import Final

from livemon.exchange.table import Row
from livemon.exchange.who import Who
from livemon.monitor.bout_notes import BoutNotes, notes_of
from livemon.monitor.bouts import Bout, bouts_of
from livemon.monitor.corrections import MarkBook

_NS_PER_S: Final = 1e9


def bout_rows(book: MarkBook, who: Who, end_ns: int) -> Iterator[Row]:
    """Yield the rows of `tables.BOUTS`; what still goes on ends at `end_ns`."""
    for athlete in who.athletes:
        bouts = bouts_of(book.standing, athlete)
        notes = notes_of(book, bouts, athlete)
        for bout in bouts:
            yield _row(bout, notes[bout.mark], athlete, who.name(athlete), end_ns)


def _row(bout: Bout, notes: BoutNotes, athlete: str, name: str | None, until_ns: int) -> Row:
    end_ns = max(until_ns, bout.start_ns) if bout.end_ns is None else bout.end_ns
    load, load_unit = notes.load or (None, None)
    low_bpm, high_bpm = bout.band_bpm or (None, None)
    return (
        bout.start_ns,
        end_ns,
        athlete,
        name,
        bout.number,
        bout.phase.value,
        notes.work or None,
        (end_ns - bout.start_ns) / _NS_PER_S,
        load,
        load_unit,
        notes.repetitions,
        notes.distance_m,
        notes.rpe,
        notes.rpe_cr10,
        bout.planned_s,
        bout.planned_m,
        low_bpm,
        high_bpm,
        " / ".join(notes.notes) or None,
    )
