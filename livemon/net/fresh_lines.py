"""At the relay: the newest lines, on their way out live.

What waited too long, because the broker was away, is dropped here: it would only hold up what is
newer. The hub gets it later from the recording.
"""

from collections import deque
from typing import Final

from livemon.net.batch import MAX_LINES, fitting

#: Older than this a line is no longer live; the screen marks data as stale after 3 s.
_FRESH_NS: Final = 2_000_000_000
#: Two seconds of 100 sensors at 10 Hz.
_MOST_LINES: Final = 2_000


class FreshLines:
    """Lines and when they came. Numbers count the recording's lines from 1."""

    __slots__ = ("_lines", "_next", "dropped")

    def __init__(self, next_number: int = 1) -> None:
        self._lines: deque[tuple[int, bytes]] = deque(maxlen=_MOST_LINES)
        self._next = next_number  # number of the line after the last
        self.dropped = 0  #: lines that did not go out live

    def put(self, line: bytes, now_ns: int) -> None:
        """Take the recording's next line."""
        self.dropped += len(self._lines) == _MOST_LINES
        self._lines.append((now_ns, line))
        self._next += 1

    def take(self, now_ns: int) -> tuple[int, tuple[bytes, ...]] | None:
        """Return the next lines to send and the first one's number; None if there are none."""
        while self._lines and now_ns - self._lines[0][0] > _FRESH_NS:
            self._lines.popleft()
            self.dropped += 1
        if not self._lines:
            return None
        first = self._next - len(self._lines)
        some = [self._lines[n][1] for n in range(min(MAX_LINES, len(self._lines)))]
        lines = fitting(some)
        for _ in lines:
            self._lines.popleft()
        return first, lines
