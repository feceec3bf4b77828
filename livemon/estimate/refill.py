"""How SmO2 comes back after work, told while it happens: the level now, and when it was half back.

    SmO2         goal ─ ─ ─ ─ ─ ─ ─ ─ ─ ─ ─ ─ ─ ─ ─ ─
     │ ╲                            ╭─────────
     │  ╲       middle ─ ─ ─ ─ ─ ─╱─ ─ ─ ─ ─ ─ ─ ─ ─
     │   ╲________bottom________╱
     └──────── work ───────────┤◀─▶ half-recovery time

* The bottom is the mean of the last 15 s of work.
* The goal is the resting level while the peak is still to come, and the highest half minute so far
  once the muscle has overshot it: healthy ones do (to 112-132 % of rest). When three minutes have
  passed the peak is known, and the goal is the highest half minute of them, reached or not.
* The half-recovery time runs from the end of work to the first crossing of the middle by the
  smoothed trace, between two points by a straight line. Of a pure exponential it is tau ln 2.

Half-recovery time repeats better than the time constant of a fitted exponential (within one session
ICC .77 against .72, between sessions .58 against -.21: Research Directs in Health Sciences 2022,
n = 17), so nothing is fitted. analyse/ measures it again afterwards, with its interval.
"""

from collections.abc import Iterator, Sequence
from typing import Final

#: (time in s, SmO2 in %), the mean of one second at its middle; oldest first.
Point = tuple[float, float]

#: Common practice is the last 10 to 30 s; no source. The same as analyse/ takes.
END_OF_WORK_S: Final = 15.0
PEAK_WITHIN_S: Final = 180.0
_PEAK_S: Final = 30.0

_SMALLEST_RISE_PCT: Final = 5.0  #: less can't be timed: readings scatter by a point or two
_HALF_SMOOTH_S: Final = 2.0  #: five seconds around each; moves a tau of 20 s by 0.05 s
_BREAK_S: Final = 5.0  #: a crossing inside a longer silence was not seen
_FEWEST: Final = 3  #: values in a mean; slow sensors send one in four seconds


def mean_between(points: Sequence[Point], from_s: float, to_s: float) -> float | None:
    """Return the mean SmO2 from `from_s` to `to_s`; None where there is hardly anything."""
    values = [pct for t_s, pct in points if from_s <= t_s <= to_s]
    return sum(values) / len(values) if len(values) >= _FEWEST else None


def half_recovery_s(
    points: Sequence[Point], work_end_s: float, rest_pct: float | None
) -> float | None:
    """Return the half-recovery time; None as long as it is not known, or if there is none.

    Args:
        points: what came before now, from the last seconds of work on.
        work_end_s: when the work ended.
        rest_pct: the resting level; without it the time is known when the peak is.
    """
    bottom = mean_between(points, work_end_s - END_OF_WORK_S, work_end_s)
    goal = _goal(points, work_end_s, rest_pct)
    if bottom is None or goal is None or goal - bottom < _SMALLEST_RISE_PCT:
        return None
    return _crossing(_smoothed(points, work_end_s), work_end_s, (bottom + goal) / 2)


def _goal(points: Sequence[Point], work_end_s: float, rest_pct: float | None) -> float | None:
    peak = _highest_half_minute(points, work_end_s)
    over = bool(points) and points[-1][0] >= work_end_s + PEAK_WITHIN_S
    if over or rest_pct is None:
        return peak if over else None
    return rest_pct if peak is None else max(peak, rest_pct)


def _highest_half_minute(points: Sequence[Point], work_end_s: float) -> float | None:
    """Return the highest mean of half a minute in the first three minutes of rest."""
    rest = [p for p in points if work_end_s < p[0] <= work_end_s + PEAK_WITHIN_S]
    highest: float | None = None
    total, first = 0.0, 0
    for at, (t_s, pct) in enumerate(rest):
        total += pct
        while rest[first][0] <= t_s - _PEAK_S:
            total -= rest[first][1]
            first += 1
        count = at + 1 - first
        if count < _FEWEST or t_s - rest[0][0] < _PEAK_S - 1:
            continue  # not half a minute yet
        if highest is None or total / count > highest:
            highest = total / count
    return highest


def _smoothed(points: Sequence[Point], work_end_s: float) -> Iterator[Point]:
    """Yield the smoothed trace from just before the end of work, as far as it is final."""
    first = after = 0
    for t_s, _ in points:  # pragma: no branch - the newest point ends it
        if t_s + _HALF_SMOOTH_S > points[-1][0] or t_s > work_end_s + PEAK_WITHIN_S:
            return
        if t_s < work_end_s - _BREAK_S:
            continue
        while points[first][0] < t_s - _HALF_SMOOTH_S:
            first += 1
        while after < len(points) and points[after][0] <= t_s + _HALF_SMOOTH_S:
            after += 1
        near = [pct for _, pct in points[first:after]]
        yield t_s, sum(near) / len(near)


def _crossing(trace: Iterator[Point], work_end_s: float, middle_pct: float) -> float | None:
    """Return how long after `work_end_s` the trace first passes `middle_pct` upwards."""
    before: Point | None = None
    for t_s, pct in trace:
        if t_s > work_end_s and pct >= middle_pct:
            if before is None or t_s - before[0] > _BREAK_S or before[1] >= middle_pct:
                return None  # nobody saw when
            share = (middle_pct - before[1]) / (pct - before[1])
            return max(before[0] + share * (t_s - before[0]) - work_end_s, 0.0)
        before = t_s, pct
    return None
