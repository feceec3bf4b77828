"""What was wrong with a recording that could be read all the same."""

from dataclasses import dataclass
from typing import Final

from livemon.errors import RecordingError
from livemon.tongue import said_n

#: Enough to see what happened; a megabyte of garbage must not become a megabyte of reasons.
_KEPT: Final = 20


@dataclass(frozen=True, slots=True)
class BadLine:
    """A line that was skipped."""

    number: int  #: 1 for the first line of the file
    reason: str


@dataclass(frozen=True, slots=True)
class Problems:
    """The damage, counted.

    Attributes:
        bad: lines that could not be read.
        first_bad: the first few of them.
        later_types: lines of types that a later version added.
        lost: events that the journal could not write, by its own account.
        unfinished: the last line has no end, as after a kill or while it is being written.
    """

    bad: int = 0
    first_bad: tuple[BadLine, ...] = ()
    later_types: int = 0
    lost: int = 0
    unfinished: bool = False

    def words(self) -> str:
        """Return the damage in one sentence; empty when there is none to speak of."""
        parts = []
        if self.bad:
            first = self.first_bad[0]
            parts.append(
                said_n(
                    "{n} line unreadable (line {number}: {reason})",
                    "{n} lines unreadable (line {number}: {reason})",
                    self.bad, n=f"{self.bad:,}", number=first.number, reason=first.reason,
                )
            )  # fmt: skip
        if self.later_types:
            parts.append(
                said_n(
                    "{n} of a later version skipped",
                    "{n} of a later version skipped",
                    self.later_types,
                )
            )
        if self.lost:
            parts.append(
                said_n(
                    "{n} event not recorded while the disk was full",
                    "{n} events not recorded while the disk was full",
                    self.lost, n=f"{self.lost:,}",
                )
            )  # fmt: skip
        return "; ".join(parts)


class Tally:
    """Counts the damage while a recording is read."""

    __slots__ = ("_bad", "_first", "_later", "_lost")

    def __init__(self) -> None:
        self._bad = 0
        self._first: tuple[BadLine, ...] = ()
        self._later = 0
        self._lost = 0

    def bad(self, number: int, error: RecordingError) -> None:
        """Count a line that could not be read."""
        self._bad += 1
        if len(self._first) < _KEPT:
            reason = f"{error.path}: {error.problem}" if error.path else error.problem
            self._first += (BadLine(number, reason),)

    def later_type(self) -> None:
        """Count a line of a type that this version doesn't know."""
        self._later += 1

    def lost(self, events: int) -> None:
        """Count events that were never written."""
        self._lost += events

    def problems(self, *, unfinished: bool) -> Problems:
        """Return what was counted so far."""
        return Problems(self._bad, self._first, self._later, self._lost, unfinished)
