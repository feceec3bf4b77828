"""Append late corrections about a bout to its recording; what was marked first stays in it."""

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Final
from uuid import uuid4

from livemon.errors import UsageError
from livemon.events import Mark
from livemon.monitor.bouts import Bout, Phase, bouts_of
from livemon.monitor.corrections import MarkBook, Standing
from livemon.monitor.mark_fields import LOAD_UNITS, MarkKind
from livemon.monitor.marks import checked_details, correction, text_in
from livemon.record.disk import open_to_read, translated
from livemon.record.line_file import LineFile
from livemon.record.lines import encode_event
from livemon.record.reader import open_recording
from livemon.tongue import said
from livemon.view.bouts_commands import BoutEntry

#: What was entered for each kind of mark.
Entered = tuple[tuple[str, dict[str, str]], ...]

_UNIT_KEYS: Final = {unit: key for key, unit in LOAD_UNITS}


def checked_entry(entry: BoutEntry) -> Entered:
    """Return what was entered by kind of mark; nothing for what was left empty.

    Raises:
        UsageError: something is not a number, or out of range.
    """
    found: list[tuple[str, dict[str, str]]] = []
    if entry.kind:
        found.append((MarkKind.WORK, {"work": entry.kind}))
    if entry.load:
        if entry.load_unit not in _UNIT_KEYS:
            raise UsageError(f"load: expected one of {', '.join(_UNIT_KEYS)}")
        found.append((MarkKind.LOAD, {_UNIT_KEYS[entry.load_unit]: entry.load}))
    if entry.rpe:
        found.append((MarkKind.RPE, {"rpe_cr10": entry.rpe}))
    if entry.lactate:
        lactate = {"lactate_mmol_l": entry.lactate, "sampling_site": entry.sampling_site}
        found.append((MarkKind.LACTATE, lactate))
    for kind, values in found:
        checked_details(MarkKind(kind), values)
    return tuple(found)


def correct_bout(
    path: Path, athlete: str, number: int, entered: Sequence[tuple[str, Mapping[str, str]]]
) -> None:
    """Append a mark for each thing that was entered.

    Raises:
        RecordingError: the file can't be read or written.
        UsageError: the bout is no longer there.
    """
    book, last_ns = MarkBook(), 0
    for event in open_recording(path).events():
        last_ns = max(last_ns, event.t_ns)
        if isinstance(event, Mark):
            book.add(event)
    bouts = bouts_of(book.standing, athlete)
    bout = next((b for b in bouts if b.phase is Phase.WORK and b.number == number), None)
    if bout is None:
        raise UsageError(
            said("{file}: there is no bout {number} any more", file=path.name, number=number)
        )
    marks = list(_marks(book, bouts, bout, athlete, last_ns, entered))
    open_to_read(path).close()  # opening to append would make a file that is not there
    with translated(path):
        file = LineFile(path)
        try:
            for mark in marks:
                file.append(encode_event(mark))
        finally:
            file.close()


def _marks(
    book: MarkBook,
    bouts: Sequence[Bout],
    bout: Bout,
    athlete: str,
    last_ns: int,
    entered: Sequence[tuple[str, Mapping[str, str]]],
) -> Iterator[Mark]:
    """Yield corrections of what was said about the bout, or new words about it.

    Each is said a nanosecond after all else in the recording: of two words about one thing the
    later holds.
    """
    end_ns = last_ns if bout.end_ns is None else bout.end_ns
    for later, (kind, values) in enumerate(entered, start=1):
        named = uuid4().hex
        details = checked_details(MarkKind(kind), {**values, "bout": bout.mark})
        before = _said(book, bouts, bout, athlete, kind)
        if before is not None:
            yield correction(before.mark, mark=named, t_ns=last_ns + later, details=details)
        else:
            yield Mark(last_ns + later, named, athlete, kind, details, at_ns=end_ns)


def _said(
    book: MarkBook, bouts: Sequence[Bout], bout: Bout, athlete: str, kind: str
) -> Standing | None:
    """Return the last mark of this kind about the bout: by name, or by when it was made."""
    found = None
    for one in book.standing:
        if one.mark.kind != kind or one.mark.athlete not in (None, athlete):
            continue
        named = text_in(one.mark, "bout")
        worked = [b.mark for b in bouts if b.phase is Phase.WORK and b.start_ns <= one.t_ns]
        owner = book.first_of(named) if named else (worked[-1] if worked else "")
        if owner == bout.mark:
            found = one
    return found
