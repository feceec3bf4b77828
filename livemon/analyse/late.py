"""Level and slope of a signal in the part of a bout that follows the onset."""

from dataclasses import dataclass

from livemon.analyse.bins import bin_means
from livemon.analyse.correlated import CorrelatedLine, fit_correlated_line
from livemon.analyse.jump import find_jump
from livemon.analyse.measure import Measure, around, unknown
from livemon.analyse.numbers import number
from livemon.analyse.series import Series
from livemon.analyse.windows import ENOUGH_COVERED, Window

TOO_SHORT = "the bout is too short: two minutes at least, the first of them for the onset"
JUMPED = "a sensor that slipped, or another load"
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


def late_of_muscle(series: Series, window: Window | None, unit: str) -> Late:
    """Judge the late part of a muscle's signal, which is no trend once its level has jumped."""
    if window is not None:
        jump = find_jump(bin_means(series, window.start_s, window.end_s))
        if jump is not None:
            size = number(jump.size, 0, signed=True)
            return _none(unit, f"the level jumped by {size}: {JUMPED}")
    return late_figures(series, window, unit)


def _none(unit: str, reason: str) -> Late:
    return Late(unknown(unit, reason), unknown(f"{unit}/min", reason), None)
