"""Follow a recording while somebody else writes it."""

from pathlib import Path

from livemon.events import Event, Head
from livemon.record.chunks import LineCutter, lines_of
from livemon.record.disk import open_to_read, translated
from livemon.record.reader import open_recording, read_line
from livemon.record.trouble import Problems, Tally


class Tail:
    """Gives the events that were added since it was last asked. Knows no waiting.

    Raises:
        RecordingError: as `open_recording`.
    """

    __slots__ = ("_cutter", "_file", "_number", "_path", "_tally", "head")

    def __init__(self, path: str | Path) -> None:
        self._path = Path(path)
        self.head: Head = open_recording(self._path).head
        self._cutter, self._tally, self._number = LineCutter(), Tally(), 0
        self._file = open_to_read(self._path)

    @property
    def problems(self) -> Problems:
        """What had to be skipped so far."""
        return self._tally.problems(unfinished=bool(self._cutter.rest))

    def poll(self) -> tuple[Event, ...]:
        """Return the events added since the last call; an unfinished line comes when it is whole.

        Raises:
            RecordingError: the disk fails.
        """
        events = []
        with translated(self._path):
            for line in lines_of(self._file, self._cutter):
                self._number += 1
                event = read_line(self._number, line, self._tally)
                if event is not None:
                    events.append(event)
        return tuple(events)

    def close(self) -> None:
        """Let go of the file."""
        self._file.close()
