"""A journal, with the thread that forces it onto the disk and looks after the room there."""

from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Final

from livemon.errors import RecordingError
from livemon.events import Event, Head
from livemon.record.place import free_bytes, keep_the_name, low_on_room, new_path
from livemon.record.side_lines import SideLine
from livemon.record.sync import Syncer
from livemon.record.writer import Journal, JournalState
from livemon.tongue import said, said_n

#: Syncs between two looks at the free room: a minute, and sooner where many marks are made.
_LOOK_EVERY: Final = 60


class Room:
    """Looks now and then how much room there is in a folder."""

    def __init__(self, folder: Path, free: Callable[[Path], int]) -> None:
        self._folder, self._free = folder, free
        self._syncs = 0
        self.low: str | None = None  #: in words, that there is little
        self._look()

    def synced(self) -> None:
        """The file was forced onto the disk once more."""
        self._syncs += 1
        if self._syncs % _LOOK_EVERY == 0:
            self._look()

    def _look(self) -> None:
        try:
            self.low = low_on_room(self._free(self._folder))
        except RecordingError:  # the folder is gone: the journal tells that itself
            self.low = None


class Journaling:
    """Writes a live session down.

    Args:
        free: how many bytes are free in a folder.

    Raises:
        RecordingError: the file can't be opened at all.
    """

    def __init__(self, path: Path, head: Head, *, free: Callable[[Path], int] = free_bytes) -> None:
        self.path = path  #: of the recording
        self._folder = path.absolute().parent
        self._named = False  #: whether the folder's entry is on the disk, too
        self._syncer = Syncer()
        self._journal = Journal(path, head, now_s=0.0, wake_sync=self._syncer.wake)
        self._room = Room(self._folder, free)
        self._syncer.start(self._sync)

    def append(self, event: Event, *, now_s: float) -> None:
        """Write `event` down."""
        self._journal.append(event, now_s=now_s)

    def note(self, side: SideLine, *, now_s: float) -> None:
        """Write down what is no event."""
        self._journal.note(side, now_s=now_s)

    def tick(self, *, now_s: float) -> None:
        """Look after the file."""
        self._journal.tick(now_s=now_s)

    def close(self, *, now_s: float) -> None:
        """Put everything onto the disk and let go."""
        self._syncer.stop()
        self._journal.close(now_s=now_s)

    def words(self) -> str:
        """Say how the recording stands, for the edge of the screen."""
        report = self._journal.report
        lost = waiting = ""
        if report.lost:
            lost = said_n(
                "{count} event lost for good",
                "{count} events lost for good",
                report.lost,
                count=f"{report.lost:,}",
            )
        if report.state is JournalState.NOT_RECORDING:
            if report.waiting:
                waiting = said_n(
                    "{count} line kept in memory",
                    "{count} lines kept in memory",
                    report.waiting,
                    count=f"{report.waiting:,}",
                )
            problem = said("NOT RECORDING: {why}", why=report.problem)
            return "; ".join(part for part in (problem, waiting, lost) if part)
        on = report.state is JournalState.RECORDING
        state = said("recording") if on else said("recording closed")
        return "; ".join(part for part in (state, lost, self._room.low) if part)

    def _sync(self) -> None:
        """Do what may wait for the disk, in the thread that nobody waits for."""
        self._journal.sync()
        if not self._named:
            self._named = True
            with suppress(RecordingError):  # the file itself is safe; its name nearly always, too
                keep_the_name(self._folder)
        self._room.synced()


def recording_path(named: str | None, folder: Path, head: Head) -> Path:
    """Return where a session is to be recorded: where somebody says, or in the user's folder."""
    if named is not None:
        return Path(named)
    return new_path(folder, head.started_utc, head.session)
