"""A recording's event lines by their numbers, so that a relay can send again from any of them.

Lines count from 1 in the order of the file; heads, titles and other side lines don't count. Where
the journal owns up to events that a full disk never took, so many numbers pass by, because they
were sent: a line that says nothing stands for each. What is in the file is looked through once and
remembered by a few offsets, so an hour's backlog costs no memory.
"""

import logging
import re
from bisect import bisect_right
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO, Final

from livemon.errors import RecordingError
from livemon.record.side_lines import Lost, decode_side_line

_log = logging.getLogger(__name__)

#: How the line of every event begins; what else stands in a recording doesn't.
_EVENT: Final = re.compile(
    rb'\{"t_ns":\d+,"type":"(?:data|link_up|link_down|sensor|athlete|assigned|mark|gap|end)"'
)
_LOST: Final = re.compile(rb'\{"t_ns":\d+,"type":"lost"')
#: Stands for an event that was never written; readers skip types that they don't know.
NOT_WRITTEN: Final = b'{"type":"not_written"}'
#: A day of 24 athletes; a larger number is damage.
_MOST_LOST: Final = 10_000_000
#: One remembered offset for so many lines: reading passes over this many at most.
_EVERY: Final = 256


class NumberedLines:
    """The lines of the recording at `path`, which may still grow."""

    __slots__ = ("_count", "_looked_to", "_offsets", "_path", "_starts")

    def __init__(self, path: Path) -> None:
        self._path = path
        self._starts = [1]  # number of the first line that begins at or behind the offset
        self._offsets = [0]
        self._count = 0
        self._looked_to = 0

    def count(self) -> int:
        """Return how many lines there are by now; what can't be read doesn't count."""
        try:
            with self._path.open("rb") as file:
                self._look(file)
        except OSError as error:
            _log.warning("%s: %s", self._path, error)
        return self._count

    def read(self, numbers: range) -> tuple[bytes, ...]:
        """Return these lines without newlines, or as many of them as there are, from the first."""
        found: list[bytes] = []
        try:
            with self._path.open("rb") as file:
                self._look(file)
                at = bisect_right(self._starts, numbers.start) - 1
                file.seek(self._offsets[at])
                number = self._starts[at]
                for line, _ in _numbered(file):
                    if number >= numbers.stop:
                        break
                    if number >= numbers.start:
                        found.append(line)
                    number += 1
        except OSError as error:
            _log.warning("%s: %s", self._path, error)
        return tuple(found)

    def _look(self, file: BinaryIO) -> None:
        """Look through what came since we last looked."""
        file.seek(self._looked_to)
        for _, end in _numbered(file):
            self._count += 1
            if end is None:  # in the middle of events that were not written
                continue
            self._looked_to = end
            if self._count + 1 - self._starts[-1] >= _EVERY:
                self._starts.append(self._count + 1)
                self._offsets.append(end)


def _numbered(file: BinaryIO) -> Iterator[tuple[bytes, int | None]]:
    """Yield each line that counts, and where it ends; None before the last of several in one."""
    at = file.tell()
    for line in file:
        if not line.endswith(b"\n"):
            return  # it is being written, or was when the power went
        at += len(line)
        if _EVENT.match(line):
            yield line[:-1], at
        elif _LOST.match(line):
            events = _lost(line)
            for number in range(events):
                yield NOT_WRITTEN, at if number == events - 1 else None


def _lost(line: bytes) -> int:
    try:
        side = decode_side_line(line)
    except RecordingError:
        return 0
    return min(side.events, _MOST_LOST) if isinstance(side, Lost) else 0
