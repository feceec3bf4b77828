"""What heart rate did in one bout."""

from dataclasses import dataclass
from math import inf
from typing import Final

import numpy as np

from livemon.analyse.bout import Bout
from livemon.analyse.grid import Grid, moving_mean, on_grid
from livemon.analyse.late import late_figures
from livemon.analyse.measure import Measure, exactly, unknown
from livemon.analyse.series import Series
from livemon.analyse.windows import ENOUGH_COVERED, late_part
from livemon.estimate.steadiness import Steadiness

# Two means a minute apart that differ by no more than this are one heart rate: the rule of the
# YMCA cycle test (minutes 2 and 3 within 5 bpm), as CSEP and Golding give it.
STEADY_WITHIN_BPM: Final = 5.0
_MINUTE_S: Final = 60
# On a real record with 2 % of such beats a steady heart could no longer be told from a moving one.
_MOST_ARTEFACTS: Final = 0.01
_ARTEFACT_SHARE: Final = 0.20  # off the median of its neighbours
_NEIGHBOURS: Final = 11
_LATE_BY_S: Final = 10.0  # the last two minutes may end so long before the bout does


@dataclass(frozen=True, slots=True)
class HeartRateBout:
    """One bout's heart rate.

    Attributes:
        mean: over the whole bout.
        late_mean: over the part after the onset; what bouts are matched by.
        in_band: time inside the athlete's band.
        drift: slope of the late part.
        steadiness: of the last two minutes.
        time_to_steady: from the start until every minute's mean is like the next one's.
    """

    mean: Measure
    late_mean: Measure
    in_band: Measure
    drift: Measure
    steadiness: Steadiness
    time_to_steady: Measure


def judge_heart_rate(
    series: Series, bout: Bout, band_bpm: tuple[float, float] | None
) -> HeartRateBout:
    """Gather one bout's heart rate figures."""
    late = late_figures(series, late_part(bout), "bpm")
    if series.covered(bout.start_s, bout.end_s) < ENOUGH_COVERED:
        reason = "heart rate is missing for much of the bout"
        lost, lost_s = unknown("bpm", reason), unknown("s", reason)
        return HeartRateBout(lost, late.level, lost_s, late.slope, Steadiness.UNDECIDABLE, lost_s)
    grid = on_grid(series, bout.start_s, bout.end_s)
    steps = _steps_between_minutes(grid)
    return HeartRateBout(
        exactly(float(grid.values[grid.known].mean()), "bpm"),
        late.level,
        _time_in_band(grid, band_bpm),
        late.slope,
        _steadiness(series.between(bout.start_s, bout.end_s), steps, bout.end_s),
        _time_to_steady(steps, bout),
    )


def _time_in_band(grid: Grid, band_bpm: tuple[float, float] | None) -> Measure:
    if band_bpm is None:
        return unknown("s", "no heart rate band was set")
    low, high = band_bpm
    inside = grid.known & (grid.values >= low) & (grid.values <= high)
    return exactly(float(np.count_nonzero(inside[:-1])), "s")


def _steps_between_minutes(grid: Grid) -> Grid:
    """Return each minute's mean less the minute's before; the time is where the two meet."""
    means = moving_mean(grid, _MINUTE_S)
    if len(means.t_s) <= _MINUTE_S:
        return Grid(means.t_s[:0], means.values[:0], means.known[:0])
    known = means.known[_MINUTE_S:] & means.known[:-_MINUTE_S]
    middle = (means.t_s[_MINUTE_S:] + means.t_s[:-_MINUTE_S]) / 2
    steps = means.values[_MINUTE_S:] - means.values[:-_MINUTE_S]
    return Grid(middle[known], steps[known], known[known])


def _steadiness(part: Series, steps: Grid, end_s: float) -> Steadiness:
    latest_s = float(steps.t_s[-1]) + _MINUTE_S if len(steps.t_s) else -inf
    if latest_s < end_s - _LATE_BY_S or artefact_share(part) > _MOST_ARTEFACTS:
        return Steadiness.UNDECIDABLE
    steady = abs(float(steps.values[-1])) <= STEADY_WITHIN_BPM
    return Steadiness.STEADY if steady else Steadiness.MOVING


def artefact_share(part: Series) -> float:
    """Return the share of readings more than 20 % off the median of their neighbours."""
    if len(part) < _NEIGHBOURS:
        return 0.0
    windows = np.lib.stride_tricks.sliding_window_view(part.values, _NEIGHBOURS)
    half = _NEIGHBOURS // 2
    middle = part.values[half : len(part) - half]
    medians = np.median(windows, axis=1)
    return float((np.abs(middle - medians) > _ARTEFACT_SHARE * medians).mean())


def _time_to_steady(steps: Grid, bout: Bout) -> Measure:
    if len(steps.t_s) == 0:
        return unknown("s", "needs two minutes of heart rate without a gap")
    moving = np.flatnonzero(np.abs(steps.values) > STEADY_WITHIN_BPM)
    if len(moving) == 0:
        return exactly(0.0, "s")
    if moving[-1] + 1 >= len(steps.t_s):
        return unknown("s", "heart rate was still moving at the end")
    # The step is between two minutes; the earlier one begins a minute before they meet.
    reached = float(steps.t_s[moving[-1] + 1]) - _MINUTE_S - bout.start_s
    return exactly(max(reached, 0.0), "s")
