"""At the relay: which lines of the recording to send again, because the hub lacks them.

Go-back-N: the hub says every second up to which line it has everything. If that stands still while
there is more, lines go out again from there, a few batches at a time, until the hub has caught up.
To a hub that says nothing, nothing is sent again. Lines are numbered from 1; what they say is not
known here, nor is any clock: time is handed in.
"""

from typing import Final

from livemon.net.batch import MAX_LINES

#: Longer than broker, network and hub take together, so that what is on its way is not sent twice.
PATIENCE_NS: Final = 2_000_000_000
#: A hub that missed to speak five times is not there.
_SILENT_NS: Final = 5_000_000_000
#: Lines on their way at one time: enough for a local network not to wait on round trips, and few
#: enough for live lines not to queue behind them.
WINDOW_LINES: Final = 4 * MAX_LINES


class Outlet:
    """One session's recording, and how far the hub has it.

    Attributes:
        written: lines in the recording.
        stored: lines that the hub has, as far as is known.
    """

    __slots__ = ("_filled", "_heard_ns", "_progress_ns", "stored", "written")

    def __init__(self, written: int = 0) -> None:
        self.written = written
        self.stored = 0
        self._filled = 0  # lines 1 to here went out, live or again
        self._heard_ns: int | None = None  # the hub's last word on this connection
        self._progress_ns = 0  # when the hub last made some, or began to be waited for

    @property
    def complete(self) -> bool:
        """Whether the hub has everything."""
        return self.stored >= self.written

    @property
    def heard(self) -> bool:
        """Whether the hub has spoken on this connection."""
        return self._heard_ns is not None

    def wrote(self, count: int, now_ns: int) -> None:
        """Take note of new lines; they go out live, by another way, at this moment."""
        if self.complete:
            self._progress_ns = now_ns
        if self._filled == self.written:
            self._filled += count
        self.written += count

    def hub_has(self, stored: int, now_ns: int) -> None:
        """Take the hub's word; it may have less than before, if its disk was lost."""
        if stored > self.written:
            return  # it speaks of another recording with the same id
        first_word = self._heard_ns is None
        self._heard_ns = now_ns
        if first_word or stored != self.stored:
            self._progress_ns = now_ns
        if first_word or stored < self.stored:
            self._filled = stored
        self.stored = stored
        self._filled = max(self._filled, stored)

    def disconnected(self) -> None:
        """Whatever was on its way may be lost: begin again where the hub says, once it does."""
        self._heard_ns = None

    def next_fill(self, now_ns: int) -> range | None:
        """Return the numbers of the lines to send again now; None if there are none."""
        if self.complete or self._heard_ns is None or now_ns - self._heard_ns > _SILENT_NS:
            return None
        if now_ns - self._progress_ns >= PATIENCE_NS:
            self._filled, self._progress_ns = self.stored, now_ns
        first = self._filled + 1
        last = min(self.written, self._filled + MAX_LINES, self.stored + WINDOW_LINES)
        return range(first, last + 1) if first <= last else None

    def sent(self, numbers: range) -> None:
        """Take note that these went out again; it may be fewer than were asked for."""
        self._filled = max(self._filled, numbers.stop - 1)
