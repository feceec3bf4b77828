"""What people ask for on the screen, carried out in the engine's thread."""

from collections.abc import Mapping
from typing import Protocol

from livemon.app.engine import Engine
from livemon.app.replay import Replay
from livemon.events import MarkValue
from livemon.monitor.mark_fields import MarkKind
from livemon.monitor.marks import Details, checked_details
from livemon.record.warning_lines import Happened
from livemon.view.handling import Handling


class Marked(Protocol):
    """A program that takes marks and a log of warnings; called in the engine's thread."""

    def mark(self, athlete: str | None, kind: str, details: Details) -> None:
        """Write a mark down as of now."""

    def mark_several(self, athletes: tuple[str | None, ...], kind: str, details: Details) -> None:
        """Write the same mark down for each of them; one undo takes them back."""

    def undo(self) -> None:
        """Take the last mark back."""

    def handled(self, athlete: str, what: Happened, for_s: float | None = None) -> None:
        """Write down how somebody dealt with warnings."""


class LiveDesk:
    """The wishes of whoever watches a live session."""

    def __init__(self, engine: Engine, program: Marked) -> None:
        self._engine = engine
        self._program = program

    def begin_bout(self, athlete: str | None, kind: str, planned_s: float | None) -> None:
        """Mark that work begins now."""
        self.mark(athlete, MarkKind.BOUT_START, {"work": kind, "planned_s": planned_s})

    def end_bout(self, athlete: str | None) -> None:
        """Mark that work ends now and recovery begins."""
        self.mark(athlete, MarkKind.RECOVERY_START, {})

    def note(self, athlete: str | None, text: str) -> None:
        """Keep these words at this moment."""
        if text.strip():
            self.mark(athlete, MarkKind.NOTE, {"text": text})

    def undo(self) -> None:
        """Take the last mark back."""
        self._engine.call(self._program.undo)

    def stop(self) -> None:
        """End the session in the background."""
        self._engine.cancel()

    def finished(self) -> bool:
        """Return whether everything is put away."""
        return not self._engine.running

    def mark(self, athlete: str | None, kind: MarkKind, entered: Mapping[str, MarkValue]) -> None:
        """Keep what was entered, at this moment."""
        details = checked_details(kind, entered)
        self._engine.call(lambda: self._program.mark(athlete, kind.value, details))

    def mark_several(
        self, athletes: tuple[str, ...], kind: MarkKind, entered: Mapping[str, MarkValue]
    ) -> None:
        """Keep the same for each of them."""
        details = checked_details(kind, entered)
        self._engine.call(lambda: self._program.mark_several(athletes, kind.value, details))

    def handled(self, handling: Handling) -> None:
        """Keep how somebody dealt with warnings."""
        what = Happened(handling.how.value)
        self._engine.call(lambda: self._program.handled(handling.athlete, what, handling.for_s))


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
