"""How deep SmO2 went in a bout, when, for how long, and how much in all."""

from dataclasses import dataclass
from math import sqrt
from typing import Final

import numpy as np

from livemon.analyse.bins import BIN_S
from livemon.analyse.bout import Bout
from livemon.analyse.correlated import Noise
from livemon.analyse.extreme import lowest_held
from livemon.analyse.grid import STEP_S, Grid, moving_mean, on_grid
from livemon.analyse.measure import Measure, difference, standard_error, unknown
from livemon.analyse.series import Series
from livemon.analyse.student import student_quantile
from livemon.analyse.windows import ENOUGH_COVERED

_SMOOTH_S: Final = 5
_ONE_SIDED_90: Final = 0.95


@dataclass(frozen=True, slots=True)
class Depth:
    """A bout's fall.

    Attributes:
        nadir: lowest level held for half a minute.
        drop: baseline minus nadir, in points; positive is a fall.
        time_to_nadir: from the start to the middle of that half minute; the interval holds all
            times that can't be told from it.
        time_below: time under a chosen level.
        area: under the baseline, in %·min.
    """

    nadir: Measure
    drop: Measure
    time_to_nadir: Measure
    time_below: Measure
    area: Measure


def judge_depth(
    series: Series, bout: Bout, baseline: Measure, noise: Noise | None, level_pct: float | None
) -> Depth:
    """Gather the figures of one bout's fall."""
    if noise is None or series.covered(bout.start_s, bout.end_s) < ENOUGH_COVERED:
        reason = "too few samples in the bout"
        lost, lost_s = unknown("%", reason), unknown("s", reason)
        return Depth(lost, lost, lost_s, lost_s, unknown("%·min", reason))
    grid = on_grid(series, bout.start_s, bout.end_s)
    lowest = lowest_held(grid, noise, "%")
    if lowest is None:
        reason = "no half minute without a gap"
        nadir, when = unknown("%", reason), unknown("s", reason)
    else:
        nadir = lowest.level
        middle, first, last = (
            t - bout.start_s for t in (lowest.middle_s, lowest.from_s, lowest.to_s)
        )
        when = Measure(middle, first, last, "s")
    smooth = moving_mean(grid, _SMOOTH_S)
    return Depth(
        nadir,
        difference(baseline, nadir),
        when,
        _time_below(smooth, level_pct, noise),
        _area(grid, baseline, noise),
    )


def _time_below(smooth: Grid, level_pct: float | None, noise: Noise) -> Measure:
    if level_pct is None:
        return unknown("s", "no level was chosen")
    error = student_quantile(_ONE_SIDED_90, noise.degrees) * noise.sd
    values = smooth.values[smooth.known]
    counts = [float(np.count_nonzero(values < level_pct + e)) for e in (0.0, -error, error)]
    return Measure(counts[0] * STEP_S, counts[1] * STEP_S, counts[2] * STEP_S, "s")


def _area(grid: Grid, baseline: Measure, noise: Noise) -> Measure:
    """Integrate baseline minus trace; time above the baseline counts against it."""
    error = standard_error(baseline)
    if baseline.value is None or error is None:
        return unknown("%·min", baseline.reason)
    under = np.where(grid.known, baseline.value - grid.values, 0.0)
    pairs = grid.known[1:] & grid.known[:-1]
    minutes = float(np.count_nonzero(pairs)) * STEP_S / 60
    area = float(((under[1:] + under[:-1]) / 2 * pairs).sum()) * STEP_S / 60
    if minutes == 0:
        return unknown("%·min", "too few samples in the bout")
    bins = max(int(minutes * 60 / BIN_S), 1)
    whole = minutes * sqrt(error**2 + noise.error_of_mean(bins) ** 2)
    half = student_quantile(_ONE_SIDED_90, noise.degrees) * whole
    return Measure(area, area - half, area + half, "%·min")
