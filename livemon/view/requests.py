"""From what was pressed or typed to what the session is asked to do. No Qt here."""

from livemon.monitor.snapshot import LaneState
from livemon.view.commands import Commands, Marks, ReplayCommands
from livemon.view.entry import read_entry
from livemon.view.viewer import Viewer


class Requests:
    """Asks on behalf of whoever looks through `viewer`.

    Args:
        marks: takes what is typed; without it only notes can be.
        replay: None for a live session, which can't be paused.
    """

    def __init__(
        self,
        viewer: Viewer,
        commands: Commands,
        marks: Marks | None,
        replay: ReplayCommands | None,
    ) -> None:
        self._viewer, self._commands = viewer, commands
        self._marks, self._replay = marks, replay

    @property
    def held(self) -> bool:
        """Whether a replay is paused."""
        return self._replay is not None and self._replay.paused()

    def toggle_bout(self) -> None:
        """Begin a bout for the chosen athlete, or end it."""
        lane = self._viewer.chosen
        if lane is None:
            return
        if _working(lane):
            self._commands.end_bout(lane.athlete)
        else:
            self._commands.begin_bout(lane.athlete, "", None)

    def toggle_all_bouts(self) -> None:
        """Begin a bout for everybody, or end it for everybody if anybody still works."""
        if any(_working(lane) for lane in self._viewer.lanes):
            self._commands.end_bout(None)
        elif self._viewer.lanes:
            self._commands.begin_bout(None, "", None)

    def keep(self, text: str) -> None:
        """Keep what was typed.

        Raises:
            UsageError: it can't be; says what would do.
        """
        lane = self._viewer.chosen
        chosen = None if lane is None else lane.athlete
        if self._marks is None:
            if text:
                self._commands.note(chosen, text)
            return
        roster = tuple(lane.athlete for lane in self._viewer.lanes)
        first, *others = read_entry(text, roster, chosen)
        if not others:
            self._marks.mark(first.athlete, first.kind, dict(first.entered))
            return
        several = tuple(one.athlete for one in (first, *others) if one.athlete is not None)
        self._marks.mark_several(several, first.kind, dict(first.entered))

    def toggle_pause(self) -> None:
        """Hold a replay, or let it go on."""
        if self._replay is not None:
            self._replay.toggle_pause()

    def faster(self) -> None:
        """Replay twice as fast."""
        if self._replay is not None:
            self._replay.faster(2.0)

    def slower(self) -> None:
        """Replay half as fast."""
        if self._replay is not None:
            self._replay.faster(0.5)


def _working(lane: LaneState) -> bool:
    return lane.bout is not None and not lane.bout.resting
