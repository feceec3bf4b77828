"""Resting baselines of athletes: fed from snapshots, begun, given up and set by marks."""

from dataclasses import dataclass
from typing import Final, Protocol

from livemon.errors import UsageError
from livemon.estimate.resting import MOST_S, RestingLevel, RestingState
from livemon.monitor.mark_fields import MarkKind
from livemon.monitor.marks import Details, checked_details
from livemon.monitor.snapshot import LaneState, SessionSnapshot, Trust
from livemon.tongue import said
from livemon.view.kit_facts import Resting

#: Numbers as a person reads them: a tenth of a point.
_DECIMALS: Final = 1


class TakesMarks(Protocol):
    """What baselines need of a session."""

    def mark(self, athlete: str | None, kind: str, details: Details) -> None:
        """Write a mark down as of now."""


@dataclass(slots=True)
class _Run:
    levels: dict[str, RestingLevel]
    states: tuple[tuple[str, RestingState], ...] = ()
    running: bool = True


class KitBaselines:
    """One baseline an athlete, the newest."""

    def __init__(self, session: TakesMarks) -> None:
        self._session = session
        self._runs: dict[str, _Run] = {}

    def start(self, athlete: str, sites: tuple[str, ...], snapshot: SessionSnapshot) -> None:
        """Begin at these muscle sites.

        Raises:
            UsageError: there are none.
        """
        if not sites:
            raise UsageError(said("A baseline needs an oximeter: give one to this athlete first."))
        self.stop(athlete)
        levels = {site: RestingLevel(snapshot.t_s) for site in sites}
        self._runs[athlete] = _Run(levels)
        self._mark(athlete, MarkKind.BASELINE_START, planned_s=MOST_S)
        self.step(snapshot)

    def stop(self, athlete: str) -> None:
        """Give it up, if it runs; what was set before stays."""
        run = self._runs.get(athlete)
        if run is not None and run.running:
            del self._runs[athlete]
            self._mark(athlete, MarkKind.BASELINE_END)

    def step(self, snapshot: SessionSnapshot) -> None:
        """Take the newest readings; end what is over and set what it found."""
        for athlete, run in tuple(self._runs.items()):
            lane = _lane(snapshot, athlete)
            if lane is None or not run.running:
                continue
            for site in lane.state.sites:
                if site.site in run.levels and site.trust is Trust.GOOD and site.age_s is not None:
                    run.levels[site.site].feed(snapshot.t_s - site.age_s, site.smo2_pct)
            run.states = tuple((site, at.state(snapshot.t_s)) for site, at in run.levels.items())
            if all(state.over for _, state in run.states):
                self._end(athlete, run)

    def facts(self) -> tuple[Resting, ...]:
        """Return how each stands."""
        return tuple(
            Resting(athlete, run.running, run.states) for athlete, run in self._runs.items()
        )

    def _end(self, athlete: str, run: _Run) -> None:
        run.running = False
        for site, state in run.states:
            if state.level_pct is not None:
                level_pct = round(state.level_pct, _DECIMALS)
                self._mark(athlete, MarkKind.BASELINE_RESULT, site=site, smo2_pct=level_pct)
        self._mark(athlete, MarkKind.BASELINE_END)

    def _mark(self, athlete: str, kind: MarkKind, **entered: str | float) -> None:
        self._session.mark(athlete, kind.value, checked_details(kind, entered))


def _lane(snapshot: SessionSnapshot, athlete: str) -> LaneState | None:
    return next((lane for lane in snapshot.lanes if lane.athlete == athlete), None)
