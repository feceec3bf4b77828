"""At the hub: one relay's lines as they arrive, whatever was lost, doubled or came late.

Two things become of a line, and each happens at most once and in order:

* it is **kept**: every line from the first on, without a hole. Behind a hole nothing is kept; the
  relay sends it again from there, so no line ever waits in memory.
* it is **shown** to the core: only lines that come as live, and never one that is older than what
  was shown before. A hole is passed over; filling it later shows nothing.

No clock, no network: batches in, lines out.
"""

from livemon.net.batch import Batch


class Inlet:
    """One session of one relay.

    Attributes:
        stored: lines 1 to `stored` are kept.
        shown: up to this line nothing will be shown any more, because it was, or newer ones were,
            or they were on the disk already when we began; 0 before the first.
    """

    __slots__ = ("_session", "shown", "stored")

    def __init__(self, session: str, stored: int = 0) -> None:
        self._session = session
        self.stored = stored
        self.shown = stored

    def keep(self, batch: Batch) -> tuple[bytes, ...]:
        """Return the lines of the next batch that are to be kept."""
        kept = self._beyond(self.stored, batch) if batch.first <= self.stored + 1 else ()
        self.stored += len(kept)
        return kept

    def not_kept(self, count: int) -> None:
        """Take back that the last `count` lines were kept: the disk refused them."""
        self.stored -= count

    def show(self, batch: Batch) -> tuple[tuple[bytes, ...], int]:
        """Return the lines of a live batch that are news, and how many never will be.

        They never will be shown because newer ones came before them.
        """
        shown = self._beyond(self.shown, batch)
        skipped = max(0, batch.first - self.shown - 1) if self.shown else 0
        self.shown = max(self.shown, batch.last)
        return shown, skipped

    def _beyond(self, number: int, batch: Batch) -> tuple[bytes, ...]:
        """Return the lines after line `number`."""
        if batch.session != self._session:
            raise ValueError(f"a batch of {batch.session} for {self._session}")
        return batch.lines[max(0, number + 1 - batch.first) :]
