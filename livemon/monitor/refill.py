"""How far each muscle has refilled in the recovery that goes on.

Measured against the baseline that was taken; without one, against the start level: what a muscle
held before the first warm-up or bout for which that is known. (Before the last bout would not do:
where each rest is cut short, a muscle that sinks from bout to bout would always look full. Nor
would the highest: after work muscles overshoot, so it might never be reached again.)
"""

from typing import Final

from livemon.estimate.refill import END_OF_WORK_S, Point, half_recovery_s, mean_between
from livemon.monitor.bouts import Bout, Phase
from livemon.monitor.snapshot import AthleteSnapshot, RefillState, SiteState, Trust
from livemon.series.ring import Trail

_NS_PER_S: Final = 1e9
_BEFORE_S: Final = 30.0
#: The second that goes on isn't in the trail yet: a mark entered late is to find the same level.
_LAG_S: Final = 1.0
#: SmO2 readings scatter by a point or two.
_NOW_S: Final = 2.0
#: One a second: what the half-recovery time is made of, and more.
_MOST_POINTS: Final = 400


class RefillWatch:
    """Watches all muscles of one athlete."""

    __slots__ = ("_half", "_levels")

    def __init__(self) -> None:
        self._levels: dict[tuple[str, int], float | None] = {}  #: by site and beginning, ns
        self._half: dict[str, tuple[object, float | None]] = {}  #: by site: of what, and the answer

    def marked(self, bouts: tuple[Bout, ...], state: AthleteSnapshot) -> None:
        """Keep how full each muscle was before each stretch, while its trail reaches so far."""
        for bout in bouts:
            if bout.phase is Phase.RECOVERY:
                continue
            for site in state.sites:
                key = site.site, bout.start_ns
                if key not in self._levels:
                    self._levels[key] = _level_before(site.trail, bout.start_ns / _NS_PER_S)

    def forget(self, site: str) -> None:
        """Its sensor was taken off: how full the muscle was says nothing about the next one."""
        self._levels = {key: level for key, level in self._levels.items() if key[0] != site}
        self._half.pop(site, None)

    def states(self, bouts: tuple[Bout, ...], state: AthleteSnapshot) -> tuple[RefillState, ...]:
        """Return how far each site is; nothing outside of a recovery from work."""
        work_end_ns = _end_of_work(bouts)
        if work_end_ns is None:
            return ()
        return tuple(
            self._state(site, bouts, work_end_ns, state.t_s)
            for site in state.sites
            if site.trust is not Trust.ABSENT
        )

    def _state(
        self, site: SiteState, bouts: tuple[Bout, ...], work_end_ns: int, t_s: float
    ) -> RefillState:
        rest_pct = site.baseline_pct
        if rest_pct is None:
            rest_pct = self._start_level(site.site, bouts)
        level_pct = _level_now(site) if site.trust is Trust.GOOD else None
        share_pct = 100 * level_pct / rest_pct if level_pct is not None and rest_pct else None
        return RefillState(
            site=site.site,
            share_pct=share_pct,
            of_baseline=site.baseline_pct is not None,
            after_s=t_s - work_end_ns / _NS_PER_S,
            half_s=self._half_s(site, work_end_ns, rest_pct),
        )

    def _start_level(self, site: str, bouts: tuple[Bout, ...]) -> float | None:
        levels = (self._levels.get((site, bout.start_ns)) for bout in bouts)
        return next((level for level in levels if level is not None), None)

    def _half_s(self, site: SiteState, work_end_ns: int, rest_pct: float | None) -> float | None:
        """Return the half-recovery time, worked out once for each new second of the trail."""
        made_of = site.trail.end, work_end_ns, rest_pct
        known = self._half.get(site.site)
        if known is None or known[0] != made_of:
            work_end_s = work_end_ns / _NS_PER_S
            points = _points(site.trail, work_end_s - END_OF_WORK_S)
            known = made_of, half_recovery_s(points, work_end_s, rest_pct)
            self._half[site.site] = known
        return known[1]


def emptiest_pct(refill: tuple[RefillState, ...]) -> float | None:
    """Return the share of the muscle that is furthest from full; None if one can't be told."""
    shares = [one.share_pct for one in refill]
    known = [share for share in shares if share is not None]
    return min(known) if known and len(known) == len(shares) else None


def _end_of_work(bouts: tuple[Bout, ...]) -> int | None:
    """Return when the bout ended that the recovery which goes on follows."""
    if not bouts or bouts[-1].phase is not Phase.RECOVERY or bouts[-1].end_ns is not None:
        return None
    work = [bout for bout in bouts if bout.phase is Phase.WORK]
    return work[-1].end_ns if work else None


def _level_before(trail: Trail, start_s: float) -> float | None:
    until_s = start_s - _LAG_S
    return mean_between(_points(trail, until_s - _BEFORE_S), until_s - _BEFORE_S, until_s)


def _level_now(site: SiteState) -> float | None:
    t_ns, values = site.trail.read()
    recent = [
        float(pct)
        for t, pct in zip(t_ns[-3:], values[-3:], strict=True)
        if pct == pct and int(t_ns[-1]) - int(t) <= _NOW_S * _NS_PER_S  # NaN marks a break
    ]
    return sum(recent) / len(recent) if recent else None


def _points(trail: Trail, from_s: float) -> list[Point]:
    """Return the trail since `from_s`, each second's mean at its middle."""
    t_ns, values = trail.read()
    first = int(t_ns.searchsorted(round(from_s * _NS_PER_S)))
    last = first + _MOST_POINTS
    return [
        (t / _NS_PER_S - 0.5, pct)
        for t, pct in zip(t_ns[first:last].tolist(), values[first:last].tolist(), strict=True)
        if pct == pct  # NaN marks a break in the line
    ]
