"""What a person can ask for from the screen; whoever wires the program carries it out.

All are called in the thread of the window and must return at once. `athlete` None means
everybody.
"""

from collections.abc import Mapping
from typing import Protocol

from livemon.events import MarkValue
from livemon.monitor.mark_fields import MarkKind


class Commands(Protocol):
    """Wishes that any session can fulfil."""

    def begin_bout(self, athlete: str | None, kind: str, planned_s: float | None) -> None:
        """Work begins now; `kind` in the coach's own words, may be empty."""

    def end_bout(self, athlete: str | None) -> None:
        """Work ends now; recovery begins."""

    def note(self, athlete: str | None, text: str) -> None:
        """Keep these words at this moment."""

    def undo(self) -> None:
        """Take the last mark back."""

    def stop(self) -> None:
        """End the session in good order, in the background."""

    def finished(self) -> bool:
        """Return whether everything is put away, so that the window may close."""


class Marks(Protocol):
    """Takes what was typed: perceived exertion, lactate, loads, bouts of chosen lanes."""

    def mark(self, athlete: str | None, kind: MarkKind, entered: Mapping[str, MarkValue]) -> None:
        """Keep what was entered, at this moment; it has been checked."""

    def mark_several(
        self, athletes: tuple[str, ...], kind: MarkKind, entered: Mapping[str, MarkValue]
    ) -> None:
        """Keep the same for each of them; one undo takes all of it back."""


class ReplayCommands(Protocol):
    """Further wishes that only a replay can fulfil."""

    def toggle_pause(self) -> None:
        """Hold, or go on."""

    def paused(self) -> bool:
        """Return whether the replay is held."""

    def faster(self, factor: float) -> None:
        """Go `factor` times as fast as now; below one is slower."""
