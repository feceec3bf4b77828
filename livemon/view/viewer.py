"""What one person at one screen looks at: which page, whom, and how they dealt with warnings.

No Qt: the window asks for the model to show, and tells of what was pressed.
"""

from collections.abc import Callable

from livemon.monitor.snapshot import LaneState, SessionSnapshot
from livemon.view.class_view import ClassView
from livemon.view.conduct import (
    ASIDE_S,
    NOTHING_YET,
    Conduct,
    acknowledge,
    observe,
    put_back,
    set_aside,
)
from livemon.view.conduct_words import log_rows, pace_after_conduct
from livemon.view.handling import Handled, Handling
from livemon.view.lanes_model import LanesModel
from livemon.view.model import PaceModel
from livemon.view.present import present
from livemon.view.settings import ViewSettings
from livemon.view.sound_words import sound_words
from livemon.view.standstill import Pulse, lanes_now, pace_now


class Viewer:
    """Remembers what was chosen, from one snapshot to the next.

    Args:
        handled: told how somebody dealt with warnings, to be written down.
    """

    def __init__(
        self, settings: ViewSettings, handled: Callable[[Handling], None] = lambda handling: None
    ) -> None:
        self._settings, self._handled = settings, handled
        self._class = ClassView(settings)
        self._pulse = Pulse()
        self._snapshot: SessionSnapshot | None = None
        self._chosen: str | None = None
        self._wants_lanes: bool | None = None  # None until somebody asks for a page
        self.conduct: Conduct = NOTHING_YET  #: how people have dealt with warnings so far
        self.muted: frozenset[str] = frozenset()  #: whose warnings and plans are not heard

    @property
    def lanes(self) -> tuple[LaneState, ...]:
        """Everybody, in the order of the lane numbers."""
        return () if self._snapshot is None else self._snapshot.lanes

    @property
    def chosen(self) -> LaneState | None:
        """The lane that is shown or selected; None when nobody is there."""
        lanes = self.lanes
        found = (lane for lane in lanes if lane.athlete == self._chosen)
        return next(found, lanes[0] if lanes else None)

    @property
    def shows_lanes(self) -> bool:
        """Whether all are shown: a class opens with its lanes, one athlete with the Pace page."""
        return len(self.lanes) > 1 if self._wants_lanes is None else self._wants_lanes

    def use(self, settings: ViewSettings) -> None:
        """Word everything by these settings from now on."""
        self._settings = settings
        self._class.use(settings)

    def look(
        self,
        snapshot: SessionSnapshot | None,
        *,
        now_s: float,
        notices: tuple[str, ...],
        held: bool,
    ) -> PaceModel | LanesModel | None:
        """Return what to show of `snapshot`; None when there is nobody.

        Args:
            snapshot: the newest.
            now_s: the viewer's own time, to notice that nothing new comes.
            notices: words of the program itself.
            held: a replay is paused.
        """
        self._snapshot = snapshot
        lane = self.chosen
        if snapshot is None or lane is None:
            return None
        self.conduct = observe(self.conduct, snapshot.lanes, snapshot.t_s)
        still_s = self._pulse.still_for(snapshot.t_s, now_s)
        if self.shows_lanes:
            lanes = self._class.model(snapshot, notices, self.conduct)
            return lanes_now(lanes, snapshot, still_s, held=held)
        model = present(lane, self._settings, notices)
        model = pace_after_conduct(model, self.conduct, snapshot.t_s)
        return pace_now(model, snapshot, still_s, held=held)

    def log(self) -> tuple[tuple[str, str], ...]:
        """Return every warning so far, the newest first, as rows of a table."""
        names = {lane.athlete: lane.name or lane.athlete for lane in self.lanes}
        return log_rows(self.conduct, names)

    def open_lanes(self) -> None:
        """Show all athletes."""
        self._wants_lanes = True

    def open_pace(self) -> None:
        """Show the chosen athlete alone."""
        self._wants_lanes = False

    def open_athlete(self, athlete: str) -> None:
        """Show this athlete alone."""
        self._chosen = athlete
        self._wants_lanes = False

    def choose(self, athlete: str) -> None:
        """Select this athlete's lane."""
        self._chosen = athlete

    def go_back(self) -> bool:
        """Go back to all; return False where there is no way back."""
        if self.shows_lanes or len(self.lanes) < 2:
            return False
        self._wants_lanes = True
        return True

    def step(self, by: int) -> None:
        """Choose the next lane of the roster, or the one before."""
        ids = [lane.athlete for lane in self.lanes]
        if self.chosen is not None:
            self._chosen = ids[(ids.index(self.chosen.athlete) + by) % len(ids)]

    def select(self, by: int) -> None:
        """Choose the lane so many places below on the screen."""
        if self.chosen is not None and self.shows_lanes:
            self._chosen = self._class.beside(self.chosen.athlete, by)

    def toggle_pin(self) -> None:
        """Keep the chosen lane on top, or no longer."""
        if self.chosen is not None:
            self._class.toggle_pin(self.chosen.athlete)

    def sound_words(self) -> str:
        """Return how sound stands, for the edge of the screen."""
        ids = [lane.athlete for lane in self.lanes]
        muted = tuple(at + 1 for at, athlete in enumerate(ids) if athlete in self.muted)
        lane = self.chosen
        alone = lane is not None and not self.shows_lanes
        here = ids.index(lane.athlete) + 1 if lane is not None and alone else None
        return sound_words(self._settings.sound, muted, here)

    def acknowledge(self) -> None:
        """The chosen lane's warnings have been seen."""
        lane, before = self.chosen, self.conduct
        if self._snapshot is None or lane is None:
            return
        self.conduct = acknowledge(before, lane.athlete, self._snapshot.t_s)
        if self.conduct != before:
            self._handled(Handling(lane.athlete, Handled.SEEN))

    def toggle_aside(self) -> None:
        """Set the chosen lane's warnings aside for a while, or put them back."""
        self._toggle_quiet(Handled.ASIDE, ASIDE_S)

    def toggle_service(self) -> None:
        """Take the chosen lane out of service until it is put back, or put it back."""
        self._toggle_quiet(Handled.OUT, None)

    def toggle_mute(self) -> None:
        """Let nothing of the chosen lane be heard, or let it be heard again."""
        if self.chosen is None:
            return
        athlete = self.chosen.athlete
        self.muted ^= {athlete}
        how = Handled.MUTED if athlete in self.muted else Handled.HEARD
        self._handled(Handling(athlete, how))

    def _toggle_quiet(self, how: Handled, for_s: float | None) -> None:
        lane = self.chosen
        if lane is None or self._snapshot is None:
            return
        if self.conduct.is_aside(lane.athlete):
            self.conduct = put_back(self.conduct, lane.athlete)
            self._handled(Handling(lane.athlete, Handled.BACK))
            return
        until_s = None if for_s is None else self._snapshot.t_s + for_s
        self.conduct = set_aside(self.conduct, lane.athlete, until_s)
        self._handled(Handling(lane.athlete, how, for_s))
