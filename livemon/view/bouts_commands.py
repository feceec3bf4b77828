"""What the Bouts page asks for: the newest analysis, and late corrections."""

from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from livemon.view.bouts_source import BoutKey, BoutsSession


@dataclass(frozen=True, slots=True, eq=False)
class BoutsState:
    """How far the recordings are read; a new object whenever anything has changed.

    Attributes:
        sessions: what is read and analysed.
        doing: what is going on, in words; empty when nothing is.
        done: how many of `total` recordings are finished.
        troubles: recordings that could not be read, and wishes that could not be met.
        share: how much of the recording that is being read has been passed, 0 to 1.
        athletes: who is in the recordings, by name.
        athlete: whose bouts are shown.
        said: what was done, in words.
    """

    sessions: tuple[BoutsSession, ...]
    doing: str
    done: int
    total: int
    troubles: tuple[str, ...] = ()
    share: float = 0.0
    athletes: tuple[str, ...] = ()
    athlete: str = ""
    said: str = ""


@dataclass(frozen=True, slots=True)
class BoutEntry:
    """What was typed about a bout; an empty text leaves what is there as it is."""

    kind: str = ""
    load: str = ""
    load_unit: str = ""
    rpe: str = ""
    lactate: str = ""
    sampling_site: str = ""


class BoutsCommands(Protocol):
    """Reads recordings in the background and keeps corrections; never makes the caller wait."""

    def latest(self) -> BoutsState:
        """Return the newest state."""

    def choose(self, athlete: str) -> None:
        """Leave off what is being read and show this athlete's bouts."""

    def correct(self, key: BoutKey, entry: BoutEntry) -> None:
        """Append what was entered to the bout's recording, then analyse it again.

        Raises:
            UsageError: something is not a number, or out of range; nothing is written then.
        """

    def export(self, key: BoutKey, path: Path) -> None:
        """Write what the bout's recording holds of the athlete to a new file; `path` says how.

        Raises:
            UsageError: something is there already, or the name says no format.
        """

    def stop(self) -> None:
        """Stop reading; return once nothing is running any more."""
