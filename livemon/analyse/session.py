"""One athlete's whole session: every bout, every site, what they say together."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from livemon.analyse.bout import Bout
from livemon.analyse.breakpoint import Breakpoint, find_breakpoint
from livemon.analyse.compare import Comparison, Side, compare
from livemon.analyse.heart_rate import HeartRateBout, judge_heart_rate
from livemon.analyse.lactate import LactateBout, LactateSample, judge_lactate
from livemon.analyse.limits import Limiter, what_limits
from livemon.analyse.muscle import MuscleBout, judge_muscle
from livemon.analyse.pace import Pace, PacePoint, pace_that_holds
from livemon.analyse.series import NOTHING, Series
from livemon.analyse.warned import Warned, warned_in
from livemon.analyse.windows import Window


@dataclass(frozen=True, slots=True)
class AthleteRecord:
    """All that is analysed of one athlete.

    Attributes:
        smo2: by site, in %.
        thb: by site, where the sensor gives it.
        idle_sites: sites on muscles that rest in this work.
        resting: where the resting baseline was taken.
        band_bpm: the heart-rate band where a bout has none of its own.
        level_pct: the SmO2 level to count time under.
        own_low_pct: by site, where the athlete could fall no further at this placement; leave out
            what is not known.
        warnings: the drain warnings that were shown.
    """

    athlete: str
    bouts: tuple[Bout, ...]
    heart_rate: Series = NOTHING
    smo2: Mapping[str, Series] = field(default_factory=dict)
    thb: Mapping[str, Series] = field(default_factory=dict)
    lactate: tuple[LactateSample, ...] = ()
    band_bpm: tuple[float, float] | None = None
    idle_sites: frozenset[str] = frozenset()
    resting: Window | None = None
    level_pct: float | None = None
    own_low_pct: Mapping[str, float] = field(default_factory=dict)
    warnings: tuple[Warned, ...] = ()


@dataclass(frozen=True, slots=True)
class BoutAnalysis:
    """One bout of work with all its figures."""

    bout: Bout
    heart_rate: HeartRateBout
    muscles: tuple[MuscleBout, ...]
    lactate: LactateBout
    limiter: Limiter
    warnings: tuple[Warned, ...] = ()


@dataclass(frozen=True, slots=True)
class SitePace:
    """The pace that holds and the breakpoint, as one site and one kind of work show them."""

    site: str
    kind: str
    pace: Pace
    breakpoint: Breakpoint


@dataclass(frozen=True, slots=True)
class AthleteAnalysis:
    """One athlete's session.

    Attributes:
        note: why there is nothing to analyse; empty when there is.
    """

    athlete: str
    bouts: tuple[BoutAnalysis, ...]
    comparisons: tuple[Comparison, ...]
    paces: tuple[SitePace, ...]
    note: str = ""


def analyse_athlete(record: AthleteRecord) -> AthleteAnalysis:
    """Analyse every bout of work, then compare them."""
    work = [b for b in record.bouts if b.judged]
    if not work:
        note = "no bouts were marked: mark the start and end of work to have it analysed"
        return AthleteAnalysis(record.athlete, (), (), (), note)
    muscles = _muscles(record, work)
    bouts = tuple(_bout(record, bout, muscles[i]) for i, bout in enumerate(work))
    sides = [Side(b.bout.number, b.bout.recording, b.heart_rate, b.muscles) for b in bouts]
    comparisons = tuple(compare(a, b) for a, b in combinations(sides, 2))
    return AthleteAnalysis(record.athlete, bouts, comparisons, _paces(record, bouts))


def _muscles(record: AthleteRecord, work: Sequence[Bout]) -> list[tuple[MuscleBout, ...]]:
    by_site: list[list[MuscleBout]] = []
    for site, smo2 in record.smo2.items():
        judged = [
            judge_muscle(
                site,
                smo2,
                record.thb.get(site),
                bout,
                record.bouts,
                resting=record.resting,
                level_pct=record.level_pct,
                own_low_pct=record.own_low_pct.get(site),
            )
            for bout in work
        ]
        by_site.append(judged)
    return [tuple(site[i] for site in by_site) for i in range(len(work))]


def _bout(record: AthleteRecord, bout: Bout, muscles: tuple[MuscleBout, ...]) -> BoutAnalysis:
    band_bpm = bout.band_bpm or record.band_bpm
    heart_rate = judge_heart_rate(record.heart_rate, bout, band_bpm)
    working = [m for m in muscles if m.site not in record.idle_sites]
    idle = [m for m in muscles if m.site in record.idle_sites]
    return BoutAnalysis(
        bout,
        heart_rate,
        muscles,
        judge_lactate(record.lactate, bout),
        what_limits(heart_rate, working, idle, band_bpm),
        warned_in(record.warnings, bout),
    )


def _paces(record: AthleteRecord, bouts: Sequence[BoutAnalysis]) -> tuple[SitePace, ...]:
    """Look for a pace that holds per working site and kind of work."""
    kinds = list(dict.fromkeys(b.bout.kind for b in bouts if b.bout.intensity is not None))
    sites = [site for site in record.smo2 if site not in record.idle_sites]
    return tuple(_site_pace(site, kind, bouts) for kind in kinds for site in sites)


def _site_pace(site: str, kind: str, bouts: Sequence[BoutAnalysis]) -> SitePace:
    found = [
        (b.bout.number, b.bout.intensity, m)
        for b in bouts
        for m in b.muscles
        if b.bout.intensity is not None and b.bout.kind == kind and m.site == site
    ]
    pace = pace_that_holds([PacePoint(n, i, m.late.slope) for n, i, m in found])
    levels = [(i.value, m.end_level.value) for _, i, m in found if m.end_level.value is not None]
    unit = found[0][1].unit if found else ""
    bend = find_breakpoint([x for x, _ in levels], [y for _, y in levels], unit)
    return SitePace(site, kind, pace, bend)
