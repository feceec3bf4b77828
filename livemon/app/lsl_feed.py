"""Sends a session to LSL from a thread of its own, so that no reader can hold the session up.

What the session hears is put into a queue and forgotten. If the thread falls far behind, readings
are dropped and counted; what says who wears what, and marks and warnings, never are.
"""

import threading
from collections.abc import Callable
from queue import SimpleQueue
from typing import Final, Protocol

from livemon.errors import LivemonError
from livemon.events import Event, Mark, Notification
from livemon.exchange.lsl_markers import Markers
from livemon.exchange.lsl_streams import ReadingStreams, Sent, Stream
from livemon.monitor.session import Told
from livemon.tongue import said, said_n

#: A minute of a class of 24 with two sensors that send ten times a second each.
ROOM: Final = 30_000
#: How long an end waits for the last samples and for the streams to be taken back: each takes
#: 25 ms, measured, and a class of 24 has about 100. A reader that hangs gets no more.
_STOP_S: Final = 5.0

_Item = Event | Told | None


class Pushes(Protocol):
    """Where samples go."""

    def open(self, stream: Stream) -> None:
        """Let readers find it."""

    def push(self, sent: Sent, stamp_s: float) -> None:
        """Send one sample."""

    def close(self) -> None:
        """Take all streams back."""


class LslFeed:
    """Takes what a session hears and tells.

    Args:
        streams: turns events into samples.
        markers: words marks and warnings.
        outlets: where samples go; used by one thread at a time.
        stamp_s: turns a time of the session into one on LSL's clock.
        room: how many readings may wait.
    """

    def __init__(
        self,
        streams: ReadingStreams,
        markers: Markers,
        outlets: Pushes,
        stamp_s: Callable[[int], float],
        *,
        room: int = ROOM,
    ) -> None:
        self._streams, self._markers, self._outlets = streams, markers, outlets
        self._stamp_s = stamp_s
        self._room = room
        self._queue: SimpleQueue[_Item] = SimpleQueue()
        self._thread = threading.Thread(target=self._work, name="livemon-lsl", daemon=True)
        self.dropped = 0  #: readings that the thread had no time for
        self.problem = ""  #: why nothing is sent any more

    def start(self) -> None:
        """Open the stream of markers and start the thread.

        Raises:
            LivemonError: it can't be opened.
        """
        self._outlets.open(self._markers.stream)
        self._thread.start()

    def heard(self, event: Event) -> None:
        """Take an event; returns at once."""
        if isinstance(event, Notification) and self._queue.qsize() >= self._room:
            self.dropped += 1
            return
        self._queue.put(event)

    def told(self, told: tuple[Told, ...]) -> None:
        """Take what the session told; returns at once."""
        for one in told:
            self._queue.put(one)

    def stop(self) -> None:
        """Send what waits, but not for ever, and close."""
        self._queue.put(None)
        self._thread.join(_STOP_S)

    def notices(self) -> tuple[str, ...]:
        """Say how it stands, for the edge of the screen."""
        if self.problem:
            return (said("LSL: nothing is sent any more: {why}", why=self.problem),)
        if not self.dropped:
            return (said("LSL on"),)
        return (
            said_n(
                "LSL on; {count} reading dropped",
                "LSL on; {count} readings dropped",
                self.dropped,
                count=f"{self.dropped:,}",
            ),
        )

    def _work(self) -> None:
        try:
            while (item := self._queue.get()) is not None:
                self._send(item)
        except LivemonError as error:
            self.problem = str(error)
        finally:
            self._outlets.close()

    def _send(self, item: Event | Told) -> None:
        if isinstance(item, tuple):
            self._push(self._markers.change(*item))
            return
        if isinstance(item, Mark):
            self._push(self._markers.mark(item))
        for sent in self._streams.samples(item):
            self._push(sent)

    def _push(self, sent: Sent) -> None:
        self._outlets.push(sent, self._stamp_s(sent.t_ns))
