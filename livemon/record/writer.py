"""Write events down as they come, and lose nothing that a disk could hold.

                                        the disk refuses
    RECORDING ──────────────────────────────────────────▶ NOT_RECORDING
    one write of one whole line  ◀─────────────────────── what comes waits in memory
                                   a retry gets through

The session goes on whatever the disk does. Time is handed in, and the thread that forces lines
onto the disk is in sync.py: nothing here waits.
"""

import os
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from pathlib import Path
from typing import Final

from livemon.errors import RecordingError
from livemon.events import Assigned, End, Event, Head, Mark
from livemon.record.backlog import Backlog
from livemon.record.disk import words
from livemon.record.head import encode_head
from livemon.record.line_file import LineFile, Write, to_disk
from livemon.record.lines import encode_event
from livemon.record.reader import open_recording
from livemon.record.side_lines import SideLine, encode_side_line
from livemon.tongue import marked, said

#: Somebody has to delete files first; trying more often helps nobody.
RETRY_S: Final = 10.0

#: What a person did can't be measured again: it goes onto the disk at once.
_AT_ONCE: Final = (Mark, Assigned, End)

_DELETED: Final = marked("somebody deleted the recording while it ran; a new one is begun")


class JournalState(Enum):
    """Is the session being written down?"""

    RECORDING = "recording"
    NOT_RECORDING = "not recording"
    CLOSED = "closed"


@dataclass(frozen=True, slots=True)
class JournalReport:
    """What there is to say about the journal.

    Attributes:
        problem: why it stopped, and what to do; None if it never did, or goes on.
        waiting: lines kept in memory until the disk takes them.
        lost: events dropped for good since the journal was opened.
    """

    state: JournalState
    path: Path
    problem: str | None
    waiting: int
    lost: int


def _nobody() -> None:
    """Wake nobody."""


class Journal:
    """Appends events to the recording at `path`, which it makes if need be.

    Args:
        now_s: here and below, any clock that only moves forward; says when to try again.
        wake_sync: called after a line that should be on the disk at once.
        backlog: where lines wait; a fresh one by default.
        write: how bytes reach a descriptor; tests hand in small disks.

    Raises:
        RecordingError: the file can't be opened at all, or holds something else than an earlier
            part of this session. A full disk is no such error: the journal then starts in
            NOT_RECORDING.
    """

    __slots__ = (
        "_backlog", "_file", "_head", "_path", "_problem", "_retry_at_s", "_state", "_sync_error",
        "_wake_sync", "_write",
    )  # fmt: skip

    def __init__(
        self,
        path: Path,
        head: Head,
        *,
        now_s: float,
        wake_sync: Callable[[], None] = _nobody,
        backlog: Backlog | None = None,
        write: Write = os.write,
    ) -> None:
        self._path, self._head = path, encode_head(head)
        self._backlog = Backlog() if backlog is None else backlog
        self._wake_sync, self._write = wake_sync, write
        self._file: LineFile | None = None
        self._state = JournalState.RECORDING
        self._problem: str | None = None
        self._retry_at_s = now_s
        self._sync_error: OSError | None = None
        try:
            self._file = LineFile(path, write)
        except FileNotFoundError as error:
            what = f"there is no folder {path.parent}; make it first, or take another place"
            raise RecordingError(str(path), "", what) from error
        except OSError as error:
            raise RecordingError(str(path), "", words(error)) from error
        if not self._file.empty and not _holds(path, head):
            self._let_go()
            raise RecordingError(str(path), "", "it holds something else; take another name")
        self._put(self._head, now_s)

    @property
    def report(self) -> JournalReport:
        """The journal at this moment."""
        waiting, lost = len(self._backlog), self._backlog.lost
        return JournalReport(self._state, self._path, self._problem, waiting, lost)

    def append(self, event: Event, *, now_s: float) -> None:
        """Write `event` down, or keep it until the disk takes it.

        Raises:
            RecordingError: the event holds what no line can, or the journal was closed.
        """
        self._take(encode_event(event), event, now_s)

    def note(self, side: SideLine, *, now_s: float) -> None:
        """Write down what is no event, in its order among the events.

        Raises:
            RecordingError: the journal was closed.
        """
        self._take(encode_side_line(side), side, now_s)

    def tick(self, *, now_s: float) -> None:
        """Look after the file; call it each second, also when nothing comes."""
        if self._state is JournalState.NOT_RECORDING and now_s >= self._retry_at_s:
            self._reopen(now_s)
        elif self._state is JournalState.RECORDING and self._sync_error is not None:
            self._stop(words(self._sync_error), now_s)
        elif self._state is JournalState.RECORDING and not self._path.exists():
            self._stop(said(_DELETED), now_s)

    def sync(self) -> None:
        """Force what was written onto the disk; the one method for another thread."""
        file = self._file
        if file is None:
            return
        try:
            to_disk(file.descriptor)
        except OSError as error:
            if file is self._file:  # else it was closed meanwhile, on purpose
                self._sync_error = error

    def close(self, *, now_s: float) -> JournalReport:
        """Write what still waits, repeat the head, force all onto the disk and let go."""
        if self._state is JournalState.NOT_RECORDING:
            self._reopen(now_s)
        if self._state is JournalState.RECORDING:
            # A second copy: if the first line is ever damaged, the recording still opens.
            self._put(self._head, now_s)
            self.sync()
        self._let_go()
        self._state = JournalState.CLOSED
        return self.report

    def _take(self, line: str, what: Event | SideLine, now_s: float) -> None:
        if self._state is JournalState.CLOSED:
            raise RecordingError(str(self._path), "", "it was closed; nothing can be added")
        if not self._put(line, now_s):
            self._backlog.keep(line, what)
            self.tick(now_s=now_s)
        elif isinstance(what, _AT_ONCE):
            self._wake_sync()

    def _put(self, line: str, now_s: float) -> bool:
        if self._file is None:
            return False
        try:
            self._file.append(line)
        except OSError as error:
            self._stop(words(error), now_s)
            return False
        return True

    def _reopen(self, now_s: float) -> None:
        try:
            self._file = LineFile(self._path, self._write)
            if self._file.empty:
                self._file.append(self._head)
            self._backlog.drain(self._file)
        except OSError as error:
            self._stop(words(error), now_s)
            return
        self._state, self._problem = JournalState.RECORDING, None
        self._wake_sync()

    def _stop(self, why: str, now_s: float) -> None:
        self._let_go()
        self._state, self._problem = JournalState.NOT_RECORDING, why
        self._retry_at_s = now_s + RETRY_S
        self._sync_error = None

    def _let_go(self) -> None:
        file, self._file = self._file, None
        if file is None:
            return
        try:
            file.close()
        except OSError as error:
            self._problem = words(error)


def _holds(path: Path, head: Head) -> bool:
    """Tell whether the file is an earlier part of the session with this head."""
    try:
        return open_recording(path).head == head
    except RecordingError:
        return False
