"""The pace that holds: the intensity at which SmO2 would neither rise nor fall.

Slopes of several bouts lie on a line against intensity, and where it crosses zero lies critical
speed (Kirby et al. 2021, J Appl Physiol 130:1915, doi 10.1152/japplphysiol.00058.2021; 10 runners).
The interval of the crossing is Fieller's (1954, J R Stat Soc B 16:175): it grows lopsided when the
slopes hardly depend on intensity, and has no end when they might not depend on it at all.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Final

import numpy as np

from livemon.analyse.bout import Intensity
from livemon.analyse.line import Line, fit_line
from livemon.analyse.measure import UPPER, Measure, standard_error, unknown
from livemon.analyse.student import student_quantile

FEWEST_INTENSITIES: Final = 3
_NORMAL: Final = 1e6  # each slope's interval is Student's already
_SMALLEST_ERROR: Final = 1e-6  # %/min; keeps a slope without noise from weighing infinitely


@dataclass(frozen=True, slots=True)
class PacePoint:
    """One bout's part: its intensity and its late slope in %/min."""

    bout: int
    intensity: Intensity
    slope: Measure


@dataclass(frozen=True, slots=True)
class Pace:
    """The pace that holds.

    Attributes:
        intensity: where the slope is zero.
        dependence: change of slope per unit of intensity.
        points: the bouts it comes from.
    """

    intensity: Measure
    dependence: Measure
    points: tuple[PacePoint, ...]


def pace_that_holds(points: Sequence[PacePoint]) -> Pace:
    """Find the zero crossing, or say why there is none to be had."""
    used = tuple(p for p in points if p.slope.value is not None)
    units = sorted({p.intensity.unit for p in used})
    unit = units[0] if len(units) == 1 else ""
    if len(units) > 1:
        return _refused(used, unit, f"intensities in different units: {', '.join(units)}")
    x = np.array([p.intensity.value for p in used])
    y = np.array([p.slope.value for p in used], dtype=np.float64)
    errors = [max(standard_error(p.slope) or 0.0, _SMALLEST_ERROR) for p in used]
    weights = np.array([1 / (e * e) for e in errors])
    line = fit_line(x, y, weights)
    if line is None or len({p.intensity.value for p in used}) < FEWEST_INTENSITIES:
        return _refused(used, unit, "needs bouts at three different intensities at least")
    scale = _scatter(line)
    quantile = student_quantile(UPPER, _NORMAL)
    half = quantile * scale / sqrt(line.spread)
    per_unit = f"%/min per {unit}"
    dependence = Measure(line.slope, line.slope - half, line.slope + half, per_unit)
    return Pace(_crossing(line, dependence, quantile * scale, used, unit), dependence, used)


def _scatter(line: Line) -> float:
    """Return how much more the slopes scatter about the line than their errors say; at least 1."""
    return max(1.0, sqrt(line.residual_sum / (line.points - 2)))


def _crossing(
    line: Line, dependence: Measure, critical: float, used: Sequence[PacePoint], unit: str
) -> Measure:
    if not dependence.clearly_below_zero:
        return unknown(unit, "SmO2's trend doesn't clearly worsen with intensity in these bouts")
    value = line.centre - line.level / line.slope
    tested = [p.intensity.value for p in used]
    if value > max(tested):
        return unknown(unit, "above the hardest bout: even there the muscle was not draining")
    if value < min(tested):
        return unknown(unit, "below the easiest bout: even there the muscle was draining")
    low, high = fieller(line, critical)
    return Measure(value, low, high, unit)


def fieller(line: Line, critical: float) -> tuple[float, float]:
    """Return the limits of the zero crossing of a line whose slope is clearly not zero.

    They are where |level + slope (x - centre)| equals `critical` standard errors of itself.
    """
    level_variance = critical**2 / line.weight
    slope_variance = critical**2 / line.spread
    a = line.slope**2 - slope_variance
    b = line.level * line.slope
    c = line.level**2 - level_variance
    root = sqrt(b * b - a * c)
    return line.centre + (-b - root) / a, line.centre + (-b + root) / a


def _refused(used: tuple[PacePoint, ...], unit: str, reason: str) -> Pace:
    return Pace(unknown(unit, reason), unknown(f"%/min per {unit}", reason), used)
