"""A journal together with the thread that forces it onto the disk."""

from pathlib import Path

from livemon.events import Event, Head
from livemon.record.place import new_path
from livemon.record.sync import Syncer
from livemon.record.writer import Journal, JournalState


class Journaling:
    """Writes a live session down.

    Raises:
        RecordingError: the file can't be opened at all.
    """

    def __init__(self, path: Path, head: Head) -> None:
        self._syncer = Syncer()
        self._journal = Journal(path, head, now_s=0.0, wake_sync=self._syncer.wake)
        self._syncer.start(self._journal.sync)

    def append(self, event: Event, *, now_s: float) -> None:
        """Write `event` down."""
        self._journal.append(event, now_s=now_s)

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
        if report.state is JournalState.NOT_RECORDING:
            return f"NOT RECORDING: {report.problem}"
        return "recording" if report.state is JournalState.RECORDING else "recording closed"


def recording_path(named: str | None, folder: Path, head: Head) -> Path:
    """Return where a session is to be recorded: where somebody says, or in the user's folder."""
    if named is not None:
        return Path(named)
    return new_path(folder, head.started_utc, head.session)
