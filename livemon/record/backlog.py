"""What waits for a disk that takes nothing at present."""

from collections import deque
from typing import Final

from livemon.events import Event, Notification
from livemon.record.line_file import LineFile
from livemon.record.side_lines import Lost, SideLine, encode_side_line

#: A minute of 24 athletes with three sensors at 4 Hz; some 2 MB of memory.
LIMIT_LINES: Final = 20_000


class Backlog:
    """Lines in the order they came. Beyond the limit, sensors' lines are counted and dropped.

    What people said is kept all the same: it is rare, and can't be measured again.
    """

    __slots__ = ("_limit_lines", "_lines", "_unsaid", "lost")

    def __init__(self, limit_lines: int = LIMIT_LINES) -> None:
        self._limit_lines = limit_lines
        self._lines: deque[str] = deque()
        self._unsaid: Lost | None = None
        self.lost = 0  #: events dropped for good

    def __len__(self) -> int:
        return len(self._lines)

    def keep(self, line: str, event: Event | SideLine) -> None:
        """Take the line of `event`, or drop it if there is no more room."""
        if isinstance(event, Notification) and len(self._lines) >= self._limit_lines:
            self.lost += 1
            before = 0 if self._unsaid is None else self._unsaid.events
            self._unsaid = Lost(event.t_ns, before + 1)
            return
        self._lines.append(line)

    def drain(self, file: LineFile) -> None:
        """Write all that waits, oldest first, and own up to what was dropped.

        Raises:
            OSError: the file takes no more; the rest waits on.
        """
        while self._lines:
            file.append(self._lines[0])
            self._lines.popleft()
        if self._unsaid is not None:
            file.append(encode_side_line(self._unsaid))
            self._unsaid = None
