"""One athlete with everything that belongs to them: monitor, band, bouts, and past warnings."""

from collections.abc import Iterable
from typing import Final

from livemon.decode.samples import (
    ArterialSample,
    HeartRateSample,
    IntensitySample,
    OxygenationSample,
)
from livemon.events import Athlete, Mark
from livemon.monitor.athlete import Monitor
from livemon.monitor.bouts import Bout, band_in, bout_spans, bout_state, bouts_of
from livemon.monitor.changes import Change, WarningOff, WarningOn, WarningRaised
from livemon.monitor.corrections import MarkBook
from livemon.monitor.effort import ArterialWatch, EffortWatch
from livemon.monitor.mark_fields import MarkKind
from livemon.monitor.marks import happened_ns, number_in, text_in
from livemon.monitor.plan_marks import plan_state
from livemon.monitor.refill import RefillWatch
from livemon.monitor.snapshot import LaneState, PlanState, SensorState
from livemon.warn.priority import Priority

#: (on_s, off_s or None, site, highest priority)
_Past = tuple[float, float | None, str, Priority]

_NS_PER_S: Final = 1e9

#: Marks after which the muscle answers to another load.
_LOAD_CHANGES: Final = frozenset(
    {
        MarkKind.BOUT_START,
        MarkKind.BOUT_END,
        MarkKind.RECOVERY_START,
        MarkKind.RECOVERY_END,
        MarkKind.WARM_UP_START,
        MarkKind.WARM_UP_END,
    }
)


class Lane:
    """What the session keeps of one athlete."""

    __slots__ = ("_arterial", "_athlete", "_band_bpm", "_book", "_bouts", "_effort", "_monitor",
                 "_plan", "_refill", "_warnings")  # fmt: skip

    def __init__(self, athlete: Athlete) -> None:
        self._arterial = ArterialWatch()
        self._athlete = athlete
        self._band_bpm = athlete.band_bpm
        self._effort = EffortWatch()
        self._book = MarkBook()
        self._bouts: tuple[Bout, ...] = ()
        self._monitor = Monitor(sites=(), own_low_pct=dict(athlete.own_low_pct))
        self._plan: PlanState | None = None
        self._refill = RefillWatch()
        self._warnings: tuple[_Past, ...] = ()

    def wear(self, sites: tuple[str, ...]) -> None:
        """Show these sites from now on, even before the first reading."""
        for site in sites:
            self._monitor.add_site(site)

    def leave(self, sites: Iterable[str]) -> tuple[Change, ...]:
        """Show these sites no longer: no sensor sits there now; return what changed."""
        changes: tuple[Change, ...] = ()
        for site in sites:
            changes += self._monitor.drop_site(site)
            self._refill.forget(site)
        return self._noted(changes)

    def leave_heart_rate(self) -> None:
        """Show no heart rate until one comes: no strap is worn now."""
        self._monitor.drop_heart_rate()

    def change(self, athlete: Athlete) -> None:
        """Take a new name or band."""
        self._athlete = athlete
        self._band_bpm = self._band()

    def mark(self, mark: Mark) -> None:
        """Take what a person said about this athlete, or about everybody."""
        self._book.add(mark)
        self._bouts = bouts_of(self._book.standing, self._athlete.athlete)
        self._band_bpm = self._band()
        self._plan = plan_state(self._book.standing)
        self._refill.marked(self._bouts, self._monitor.snapshot())
        if mark.kind in _LOAD_CHANGES:
            self._monitor.load_changed(happened_ns(mark) / _NS_PER_S)
        elif mark.kind == MarkKind.BASELINE_RESULT:
            self._monitor.set_baseline(text_in(mark, "site"), number_in(mark, "smo2_pct"))

    def feed(
        self, sample: HeartRateSample | OxygenationSample | IntensitySample | ArterialSample
    ) -> tuple[Change, ...]:
        """Take one sample; return what changed."""
        if isinstance(sample, IntensitySample):
            self._effort.feed(sample)
            return ()
        if isinstance(sample, ArterialSample):
            self._arterial.feed(sample)
            return ()
        return self._noted(self._monitor.feed(sample))

    def advance(self, t_s: float) -> tuple[Change, ...]:
        """Let time pass; return what changed."""
        return self._noted(self._monitor.advance(t_s))

    def gap(self, t_s: float) -> tuple[Change, ...]:
        """Nobody was watching until `t_s`; return what changed."""
        return self._noted(self._monitor.gap(t_s))

    def state(self, t_s: float, sensors: tuple[SensorState, ...]) -> LaneState:
        """Return the athlete's state at `t_s`, with the sensors they wear."""
        state = self._monitor.snapshot()
        return LaneState(
            athlete=self._athlete.athlete,
            name=self._athlete.name,
            band_bpm=self._band_bpm,
            state=state,
            bout=bout_state(self._bouts),
            bouts=bout_spans(self._bouts),
            warnings=self._warnings,
            sensors=sensors,
            refill=self._refill.states(self._bouts, state),
            plan=self._plan,
            effort=self._effort.states(t_s),
            arterial=self._arterial.state(t_s),
        )

    def _band(self) -> tuple[int, int] | None:
        """Return the band to hold: the running bout's own, the last one marked, or the roster's."""
        if self._bouts and self._bouts[-1].end_ns is None and self._bouts[-1].band_bpm:
            return self._bouts[-1].band_bpm
        marked = [one.mark for one in self._book.standing if one.mark.kind == MarkKind.BAND]
        return band_in(marked[-1]) if marked else self._athlete.band_bpm

    def _noted(self, changes: tuple[Change, ...]) -> tuple[Change, ...]:
        """Keep the warnings among `changes`, for the chart and the log."""
        for change in changes:
            if isinstance(change, WarningOn):
                self._warnings += ((change.t_s, None, change.site, change.priority),)
            elif isinstance(change, WarningRaised):
                self._replace(change.site, None, change.priority)
            elif isinstance(change, WarningOff):
                self._replace(change.site, change.t_s, None)
        return changes

    def _replace(self, site: str, off_s: float | None, raised: Priority | None) -> None:
        """Change the warning that is on at `site`."""
        self._warnings = tuple(
            (on_s, off_s, where, raised or highest) if was is None and where == site
            else (on_s, was, where, highest)
            for on_s, was, where, highest in self._warnings
        )  # fmt: skip
