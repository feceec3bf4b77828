"""Compare what a monitor said about a trace with the truth."""

from typing import Final

import numpy as np

from livemon.score.cause import cause
from livemon.score.event import Fall, Moment
from livemon.score.oracle import FALSE_PER_HOUR, seen_after_s
from livemon.score.result import Count, Edge, FallResult, TraceResult
from livemon.score.trace import Trace
from livemon.score.watch import Probe, Shown, Watched

#: A false warning this soon after a pace change is blamed on it.
_BLAMED_S: Final = 120.0
#: Coverage is asked for where the true slope has moved by less than this in the time before: a
#: slope that has just changed is not known yet, and no interval is promised for it.
_CALM_PCT_PER_MIN: Final = 0.5
_CALM_S: Final = 30.0


def judge(trace: Trace, watched: Watched) -> TraceResult:
    """Return what `trace` gave."""
    edges = tuple(_edge(trace, shown) for shown in watched.warnings)
    falls = tuple(
        _fall_result(trace, site, fall, watched)
        for site, verdict in enumerate(trace.verdicts)
        for fall in verdict.falls
    )
    quiet = np.mean([verdict.moments != Moment.FALL for verdict in trace.verdicts], axis=0)
    step_h = (trace.truth.t_s[1] - trace.truth.t_s[0]) / 3600
    with_trend = [(p, _calm(trace, p)) for p in watched.probes if p.trend is not None]
    with_forecast = [p for p in watched.probes if p.forecast is not None and _calm(trace, p)]
    return TraceResult(
        key=trace.key,
        conditions=trace.conditions,
        hours=trace.plan.seconds / 3600,
        quiet_work_h=float(quiet[trace.truth.working].sum() * step_h),
        quiet_rest_h=float(quiet[~trace.truth.working].sum() * step_h),
        edges=edges,
        falls=falls,
        pace_changes=_pace_changes(trace, edges),
        interval=_count([_covers(trace, p) for p, calm in with_trend if calm]),
        interval_always=_count([_covers(trace, p) for p, _ in with_trend]),
        forecast=_count([_foretells(trace, p) for p in with_forecast]),
    )


def _edge(trace: Trace, shown: Shown) -> Edge:
    at = trace.index(shown.on_s)
    moment = Moment(int(trace.verdicts[shown.site].moments[at]))
    why = cause(trace, shown.site, shown.on_s) if moment is Moment.FALSE else None
    return Edge(shown.on_s, shown.site, moment, bool(trace.truth.working[at]), why)


def _fall_result(trace: Trace, site: int, fall: Fall, watched: Watched) -> FallResult:
    warnings = _overlapping(watched.warnings, site, fall.start_s, fall.end_s)
    oracle_s = seen_after_s(trace, site, fall, FALSE_PER_HOUR)
    if not warnings:
        return FallResult(fall, None, oracle_s, None, 0, None)
    first_s = max(warnings[0][0], fall.start_s)
    on_s = sum(min(off, fall.end_s) - max(on, first_s) for on, off in warnings)
    return FallResult(
        fall,
        delay_s=first_s - fall.start_s,
        oracle_s=oracle_s,
        held_share=on_s / (fall.end_s - first_s),
        edges=len(warnings),
        clear_s=_clear_s(trace, site, fall, warnings[-1][1]),
    )


def _overlapping(
    shown: tuple[Shown, ...], site: int, begin_s: float, end_s: float
) -> list[tuple[float, float]]:
    """Return (on, off) of the warnings at `site` that touch the span."""
    spans = [
        (s.on_s, float("inf") if s.off_s is None else s.off_s) for s in shown if s.site == site
    ]
    return [(on, off) for on, off in spans if on < end_s and off > begin_s]


def _clear_s(trace: Trace, site: int, fall: Fall, off_s: float) -> float | None:
    if off_s <= fall.end_s:
        return None
    trace_end_s = float(trace.truth.t_s[-1])
    off_s = min(off_s, trace_end_s)
    later = [f.start_s for f in trace.verdicts[site].falls if f.start_s >= fall.end_s]
    if fall.end_s >= trace_end_s - 1 or (later and min(later) < off_s):
        return None
    return off_s - fall.end_s


def _pace_changes(trace: Trace, edges: tuple[Edge, ...]) -> Count:
    false_s = [e.t_s for e in edges if e.counts_as is Moment.FALSE]
    drawn = [
        any(change <= t < change + _BLAMED_S for t in false_s)
        for change in trace.plan.pace_changes_s
    ]
    return _count(drawn)


def _calm(trace: Trace, probe: Probe) -> bool:
    """Say whether the true slope at the probe's moment has been what it is for a while."""
    end = trace.index(probe.t_s) + 1
    begin = trace.index(probe.t_s - _CALM_S)
    slope = trace.truth.sites[probe.site].slope_pct_per_min[begin:end]
    return bool(slope.max() - slope.min() < _CALM_PCT_PER_MIN)


def _covers(trace: Trace, probe: Probe) -> bool:
    assert probe.trend is not None
    slope = trace.truth.sites[probe.site].slope_pct_per_min[trace.index(probe.t_s)]
    return bool(probe.trend.low_pct_per_min <= slope <= probe.trend.high_pct_per_min)


def _foretells(trace: Trace, probe: Probe) -> bool:
    """Say whether the band holds the time to the low that was shown, at the true present rate."""
    assert probe.forecast is not None
    if probe.own_low_pct is None:
        return False
    at, site = trace.index(probe.t_s), trace.truth.sites[probe.site]
    slope = float(site.slope_pct_per_min[at])
    if slope >= 0:
        return False
    left_s = 60 * max(float(site.smo2_pct[at]) - probe.own_low_pct, 0.0) / -slope
    return probe.forecast.soonest_s <= left_s <= probe.forecast.latest_s


def _count(answers: list[bool]) -> Count:
    return Count(sum(answers), len(answers))
