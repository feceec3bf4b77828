"""Level and slope of a signal in the part of a bout that follows the onset."""

from dataclasses import dataclass

from livemon.analyse.bins import bin_means
from livemon.analyse.correlated import CorrelatedLine, fit_correlated_line
from livemon.analyse.measure import Measure, around, unknown
from livemon.analyse.series import Series
from livemon.analyse.windows import ENOUGH_COVERED, Window

TOO_SHORT = "the bout is too short: two minutes at least, the first of them for the onset"
TOO_FEW = "too few samples in the late part of the bout"


@dataclass(frozen=True, slots=True)
class Late:
    """The late part of a bout in two figures.

    Attributes:
        level: mean over the late part.
        slope: change per minute.
        fit: what they come from; None when there are none.
    """

    level: Measure
    slope: Measure
    fit: CorrelatedLine | None


def late_figures(series: Series, window: Window | None, unit: str) -> Late:
    """Judge the late part; `unit` is the signal's own, the slope's is that per minute."""
    if window is None:
        return _none(unit, TOO_SHORT)
    if series.covered(window.start_s, window.end_s) < ENOUGH_COVERED:
        return _none(unit, TOO_FEW)
    fit = fit_correlated_line(bin_means(series, window.start_s, window.end_s))
    if fit is None:
        return _none(unit, TOO_FEW)
    degrees = fit.noise.degrees
    return Late(
        around(fit.line.level, fit.level_error, degrees, unit),
        around(fit.line.slope * 60, fit.slope_error * 60, degrees, f"{unit}/min"),
        fit,
    )


def _none(unit: str, reason: str) -> Late:
    return Late(unknown(unit, reason), unknown(f"{unit}/min", reason), None)
