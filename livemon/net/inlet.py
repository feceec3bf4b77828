"""At the hub: one relay's lines as they arrive, whatever was lost, doubled or came late.

Two things become of a line, and each happens at most once and in order:

* it is **kept**: every line from the first on, without a hole. Behind a hole nothing is kept; the
  relay sends it again from there, so no line ever waits in memory.
* it is **shown** to the core: only lines that come as live, and never one that is older than what
  was shown before. A hole is passed over; filling it later shows nothing.

No clock, no network: batches in, lines out.
"""

from dataclasses import dataclass

from livemon.net.batch import Batch


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of a batch."""

    kept: tuple[bytes, ...]
    shown: tuple[bytes, ...]
    skipped: int  #: lines that will never be shown, because newer ones came before them


class Inlet:
    """One session of one relay.

    Attributes:
        stored: lines 1 to `stored` are kept.
        shown: the newest line that was shown; 0 before the first.
    """

    __slots__ = ("_session", "shown", "stored")

    def __init__(self, session: str, stored: int = 0) -> None:
        self._session = session
        self.stored = stored
        self.shown = 0

    def take(self, batch: Batch, *, live: bool) -> Taken:
        """Take the next batch; `live` says which way it came."""
        if batch.session != self._session:
            raise ValueError(f"a batch of {batch.session} for {self._session}")
        kept = self._beyond(self.stored, batch) if batch.first <= self.stored + 1 else ()
        self.stored += len(kept)
        if not live:
            return Taken(kept, (), 0)
        shown = self._beyond(self.shown, batch)
        skipped = max(0, batch.first - self.shown - 1) if self.shown else 0
        self.shown = max(self.shown, batch.last)
        return Taken(kept, shown, skipped)

    @staticmethod
    def _beyond(number: int, batch: Batch) -> tuple[bytes, ...]:
        """Return the lines after line `number`."""
        return batch.lines[max(0, number + 1 - batch.first) :]
