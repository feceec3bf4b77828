"""A quantity with its interval, or the reason why it can't be given.

A measure never holds NaN or infinity: what isn't known is None and says why in `reason`.
"""

from dataclasses import dataclass
from math import hypot, isfinite

from livemon.analyse.student import student_quantile

CONFIDENCE = 0.90  #: of every interval in this part; the same as on the live screen
UPPER = 0.5 + CONFIDENCE / 2  #: the quantile that a two-sided interval needs


@dataclass(frozen=True, slots=True)
class Measure:
    """One figure.

    Attributes:
        value: None when it can't be given.
        low: lower limit of the 90 % interval; None for a plain count or an unknown value.
        high: upper limit.
        unit: of all three; empty for a bare number.
        reason: why there is no value, in words for the reader; empty when there is one.
    """

    value: float | None
    low: float | None
    high: float | None
    unit: str
    reason: str = ""

    @property
    def clearly_above_zero(self) -> bool:
        """Whether the whole interval lies above zero."""
        return self.low is not None and self.low > 0

    @property
    def clearly_below_zero(self) -> bool:
        """Whether the whole interval lies below zero."""
        return self.high is not None and self.high < 0


def unknown(unit: str, reason: str) -> Measure:
    """Return a measure without a value."""
    return Measure(None, None, None, unit, reason)


def exactly(value: float, unit: str) -> Measure:
    """Return a count or duration that has no interval of its own."""
    return Measure(float(value), None, None, unit)


def around(value: float, standard_error: float, degrees: float, unit: str) -> Measure:
    """Return a value with its symmetric 90 % interval from Student's t."""
    if not (isfinite(value) and isfinite(standard_error)):
        return unknown(unit, "the samples do not determine it")
    half = student_quantile(UPPER, degrees) * standard_error
    return Measure(float(value), value - half, value + half, unit)


def difference(a: Measure, b: Measure) -> Measure:
    """Return a minus b, both of one unit and independent.

    The limits are combined as Zou & Donner do (2008, Statistics in Medicine 27:1693, known as
    MOVER), which keeps skewed intervals skewed.
    """
    if a.unit != b.unit:
        return unknown(a.unit, f"units differ: {a.unit} and {b.unit}")
    if a.value is None or b.value is None:
        return unknown(a.unit, a.reason or b.reason)
    value = a.value - b.value
    if a.low is None or a.high is None or b.low is None or b.high is None:
        return exactly(value, a.unit)
    return Measure(
        value,
        value - hypot(a.value - a.low, b.high - b.value),
        value + hypot(a.high - a.value, b.value - b.low),
        a.unit,
    )


def standard_error(measure: Measure) -> float | None:
    """Return the error that a normal distribution with this interval would have."""
    if measure.low is None or measure.high is None:
        return None
    return (measure.high - measure.low) / (2 * _NORMAL_95)


_NORMAL_95 = 1.6448536269514722  # quantile 0.95 of the standard normal distribution
