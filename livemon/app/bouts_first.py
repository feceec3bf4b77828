"""Notice when the first bout of an athlete, and the refilling after it, have been read."""

from typing import Final

from livemon.events import Event, Mark
from livemon.monitor.bouts import Phase, bouts_of
from livemon.monitor.corrections import MarkBook

#: As long as the analysis looks at the recovery; see docs/analysis.md.
_RECOVERY_NS: Final = 180_000_000_000


class FirstBout:
    """Counts on nothing but what has been read so far; late corrections may still change it."""

    __slots__ = ("_athlete", "_book", "_due_ns")

    def __init__(self, athlete: str) -> None:
        self._athlete = athlete
        self._book = MarkBook()
        self._due_ns: int | None = None

    def whole(self, event: Event) -> bool:
        """Take the next event; return whether the first bout is over for as long as it matters."""
        if isinstance(event, Mark):
            self._book.add(event)
            work = [
                b for b in bouts_of(self._book.standing, self._athlete) if b.phase is Phase.WORK
            ]
            ended_ns = work[0].end_ns if work else None
            self._due_ns = None if ended_ns is None else ended_ns + _RECOVERY_NS
        return self._due_ns is not None and event.t_ns >= self._due_ns
