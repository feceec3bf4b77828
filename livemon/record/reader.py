"""Open a recording and read its events, whatever has happened to the file.

What can be read is read; the rest is skipped and counted. Nothing is raised once a recording is
open, save that the file itself can no longer be read. This file knows lines, not their meaning.
"""

from collections.abc import Callable, Iterator
from os import SEEK_END
from pathlib import Path
from typing import BinaryIO, Final

from livemon.errors import RecordingError
from livemon.events import Event, Head
from livemon.record.about_athlete import AboutAthlete, NumberedLine
from livemon.record.chunks import LineCutter, batches_of, lines_of
from livemon.record.disk import open_to_read, translated
from livemon.record.head import HEAD_START, NewerVersion, decode_head
from livemon.record.jsonline import problem
from livemon.record.lines import decode_event
from livemon.record.side_lines import Lost, decode_side_line
from livemon.record.trouble import Problems, Tally

#: Some editors put this in front of a text file.
_BYTE_ORDER_MARK: Final = b"\xef\xbb\xbf"

#: Sensors' events come in order; those of another machine may be seconds early, not a minute.
_LEAP_NS: Final = 60_000_000_000

#: Told which share of the file, 0 to 1, has been passed.
Told = Callable[[float], None]
#: From the number of the first line, and some lines, to those that are to be read.
_Keep = Callable[[int, list[bytes | None]], Iterator[NumberedLine]]


def open_recording(path: str | Path) -> "Recording":
    """Read the head of the recording at `path`.

    Raises:
        NewerVersion: a later livemon wrote it.
        RecordingError: there is no such file, it can't be read, or it is not a recording.
    """
    path = Path(path)
    with open_to_read(path) as file, translated(path):
        lines = lines_of(file, cutter := LineCutter())
        first = next(lines, None) or cutter.rest
        if not first and not any(lines):
            raise RecordingError(str(path), "", "it is empty; nothing was recorded")
        try:
            return Recording(path, decode_head(first.removeprefix(_BYTE_ORDER_MARK)))
        except NewerVersion as newer:
            raise NewerVersion(newer.version, str(path)) from newer
        except RecordingError as error:
            head = _another_head(lines)
            if head is not None:
                return Recording(path, head)
            if first.startswith(HEAD_START) and first is cutter.rest:
                what = "it ends within its first line; nothing was recorded"
                raise RecordingError(str(path), "", what) from error
            what = f"{error.path}: {error.problem}" if error.path else error.problem
            raise RecordingError(
                str(path),
                "line 1",
                "it is not a recording, or its first line, which says who was measured with "
                f"what, is damaged ({what})",
            ) from error


class Recording:
    """A recording on disk. Its events are read afresh each time they are asked for."""

    __slots__ = ("_problems", "head", "path")

    def __init__(self, path: Path, head: Head) -> None:
        self.path = path
        self.head = head
        self._problems = Problems()

    @property
    def problems(self) -> Problems:
        """What the last complete pass through `events` had to skip."""
        return self._problems

    def events(self, told: Told = lambda share: None) -> Iterator[Event]:
        """Yield the events in the order they were recorded, up to the present end of the file.

        Raises:
            RecordingError: the file is gone, or the disk fails.
        """
        return self._events(lambda first, lines: enumerate(lines, first), told)

    def events_about(self, athlete: str, told: Told = lambda share: None) -> Iterator[Event]:
        """Yield all events but the packets of sensors that only others wear.

        Whether the lines of those are whole isn't looked at.

        Args:
            athlete: the id in this recording.
            told: told how far it is, now and then.

        Raises:
            RecordingError: the file is gone, or the disk fails.
        """
        return self._events(AboutAthlete(self.head, athlete).keep, told)

    def _events(self, keep: _Keep, told: Told) -> Iterator[Event]:
        tally, cutter = Tally(), LineCutter()
        with open_to_read(self.path) as file, translated(self.path):
            yield from _without_leaps(_kept_lines(file, cutter, keep, told), tally)
        self._problems = tally.problems(unfinished=bool(cutter.rest))


def read_line(number: int, line: bytes | None, tally: Tally) -> Event | None:
    """Return the event on a line of a recording; count in `tally` what is none."""
    if line is None:
        tally.bad(number, problem("", "far too long for a line"))
        return None
    try:
        event = decode_event(line)
        if event is None:
            _count(line, tally)
    except RecordingError as error:
        if line and not line.isspace() and not _is_head(line):
            tally.bad(number, error)
        return None
    return event


def _kept_lines(
    file: BinaryIO, cutter: LineCutter, keep: _Keep, told: Told
) -> Iterator[NumberedLine]:
    size, first = max(file.seek(0, SEEK_END), 1), 1
    file.seek(0)
    for lines in batches_of(file, cutter):
        yield from keep(first, lines)
        first += len(lines)
        told(min(file.tell() / size, 1.0))


def _without_leaps(lines: Iterator[NumberedLine], tally: Tally) -> Iterator[Event]:
    """Yield the events on `lines`, save a single one whose time is far ahead of both neighbours.

    A flipped digit in a time is the one damage that JSON can't show, and one such event would
    carry a session hours ahead, with all that follow it too late to be used.
    """
    held: Event | None = None
    held_number, last_ns = 0, 0
    for number, line in lines:
        event = read_line(number, line, tally)
        if event is None:
            continue
        if held is not None:
            if held.t_ns - event.t_ns > _LEAP_NS < held.t_ns - last_ns:
                tally.bad(held_number, problem("t_ns", "far ahead of the lines around it"))
            else:
                yield held
                last_ns = held.t_ns
        held, held_number = event, number
    if held is not None:
        yield held


def _count(line: bytes, tally: Tally) -> None:
    match decode_side_line(line):
        case None:
            tally.later_type()
        case Lost(events=events):
            tally.lost(events)


def _is_head(line: bytes) -> bool:
    """Tell whether this line is a head, which may stand anywhere and is no event."""
    try:
        decode_head(line.removeprefix(_BYTE_ORDER_MARK))
    except RecordingError:
        return False
    return True


def _another_head(lines: Iterator[bytes | None]) -> Head | None:
    """Return the first head that can be read: a journal repeats it when it closes or reopens."""
    for line in lines:
        if line is None or not line.startswith(HEAD_START):
            continue
        try:
            return decode_head(line)
        except RecordingError:
            continue
    return None
