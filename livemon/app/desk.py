"""What people ask for on the screen, carried out in the engine's thread."""

from typing import Protocol

from livemon.app.engine import Engine
from livemon.app.replay import Replay
from livemon.events import MarkValue
from livemon.monitor.mark_fields import MarkKind
from livemon.monitor.marks import Details, checked_details


class Marked(Protocol):
    """A program that takes marks; called in the engine's thread."""

    def mark(self, athlete: str | None, kind: str, details: Details) -> None:
        """Write a mark down as of now."""

    def undo(self) -> None:
        """Take the last mark back."""


class LiveDesk:
    """The wishes of whoever watches a live session."""

    def __init__(self, engine: Engine, program: Marked) -> None:
        self._engine = engine
        self._program = program

    def begin_bout(self, athlete: str | None, kind: str, planned_s: float | None) -> None:
        """Mark that work begins now."""
        self._mark(MarkKind.BOUT_START, athlete, {"work": kind, "planned_s": planned_s})

    def end_bout(self, athlete: str | None) -> None:
        """Mark that work ends now and recovery begins."""
        self._mark(MarkKind.RECOVERY_START, athlete, {})

    def note(self, athlete: str | None, text: str) -> None:
        """Keep these words at this moment."""
        if text.strip():
            self._mark(MarkKind.NOTE, athlete, {"text": text})

    def undo(self) -> None:
        """Take the last mark back."""
        self._engine.call(self._program.undo)

    def stop(self) -> None:
        """End the session in the background."""
        self._engine.cancel()

    def finished(self) -> bool:
        """Return whether everything is put away."""
        return not self._engine.running

    def _mark(self, kind: MarkKind, athlete: str | None, entered: dict[str, MarkValue]) -> None:
        details = checked_details(kind, entered)
        self._engine.call(lambda: self._program.mark(athlete, kind.value, details))


class ReplayDesk:
    """The wishes of whoever watches a recording: its marks are what they are."""

    #: Faster than this the screen shows nothing that an eye could follow.
    FASTEST = 256.0
    SLOWEST = 0.25

    def __init__(self, engine: Engine, replay: Replay) -> None:
        self._engine = engine
        self._replay = replay

    def begin_bout(self, athlete: str | None, kind: str, planned_s: float | None) -> None:
        """Change nothing: a recording holds its bouts already."""

    def end_bout(self, athlete: str | None) -> None:
        """Change nothing."""

    def note(self, athlete: str | None, text: str) -> None:
        """Change nothing."""

    def undo(self) -> None:
        """Change nothing."""

    def stop(self) -> None:
        """End the replay."""
        self._engine.cancel()

    def finished(self) -> bool:
        """Return whether the replay has ended, so that the window may close."""
        return not self._engine.running

    def toggle_pause(self) -> None:
        """Hold, or go on."""
        self._engine.call(lambda: self._replay.set_paused(not self._replay.paused))

    def paused(self) -> bool:
        """Return whether the replay is held."""
        return self._replay.paused

    def faster(self, factor: float) -> None:
        """Go `factor` times as fast as now."""
        now = self._replay.speed
        if now is not None:
            speed = min(max(now * factor, self.SLOWEST), self.FASTEST)
            self._engine.call(lambda: self._replay.set_speed(speed))
