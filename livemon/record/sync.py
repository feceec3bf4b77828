"""A thread that forces a journal onto the disk: each second, and at once when woken.

fsync takes from 0.1 to 30 ms and now and then far longer; whoever feeds the core can't wait for
that. A power cut takes what was not forced: the last second at most.
"""

from collections.abc import Callable
from threading import Event, Thread
from typing import Final

#: What a power cut may take.
EVERY_S: Final = 1.0


class Syncer:
    """Calls `sync` from its own thread until it is stopped."""

    __slots__ = ("_every_s", "_thread", "_urgent", "_wanted")

    def __init__(self, *, every_s: float = EVERY_S) -> None:
        self._every_s = every_s
        self._urgent = Event()
        self._wanted = True
        self._thread: Thread | None = None

    def start(self, sync: Callable[[], None]) -> None:
        """Begin to call `sync`."""
        self._thread = Thread(target=self._run, args=(sync,), name="journal sync", daemon=True)
        self._thread.start()

    def wake(self) -> None:
        """Have it called now; costs the caller nothing."""
        self._urgent.set()

    def stop(self) -> None:
        """Call it a last time and end the thread."""
        self._wanted = False
        self._urgent.set()
        if self._thread is not None:
            self._thread.join()

    def _run(self, sync: Callable[[], None]) -> None:
        while self._wanted:
            self._urgent.wait(self._every_s)
            self._urgent.clear()
            sync()
        sync()  # for what came while the last one was at work
