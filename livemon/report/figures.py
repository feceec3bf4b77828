"""Numbers as people read them: rounded to what is known, with unit, interval or a dash."""

from math import floor, log10
from typing import Final

from livemon.analyse.measure import Measure
from livemon.analyse.numbers import number
from livemon.tongue import said

NOTHING: Final = "–"


def decimals_for(measure: Measure) -> int:
    """Return how many decimals the interval allows: a tenth of its half-width or so."""
    if measure.low is None or measure.high is None or measure.high <= measure.low:
        return 1
    half = (measure.high - measure.low) / 2
    return min(max(-floor(log10(half)), 0), 3)


def figure(measure: Measure, *, signed: bool = False, decimals: int | None = None) -> str:
    """Write a measure as value, unit and interval; a dash when it isn't known."""
    if measure.value is None:
        return NOTHING
    digits = decimals_for(measure) if decimals is None else decimals
    value = number(measure.value, digits, signed=signed)
    unit = _unit(measure.unit)
    interval = span(measure, signed=signed, decimals=digits)
    return f"{value}{unit} ({interval})" if interval else f"{value}{unit}"


def bare(measure: Measure, *, decimals: int, signed: bool = False) -> str:
    """Write value and interval without the unit, for a column that names it."""
    if measure.value is None:
        return NOTHING
    interval = span(measure, signed=signed, decimals=decimals)
    value = number(measure.value, decimals, signed=signed)
    return f"{value} ({interval})" if interval else value


def span(measure: Measure, *, signed: bool = False, decimals: int | None = None) -> str:
    """Write the interval alone; empty when there is none."""
    if measure.low is None or measure.high is None:
        return ""
    digits = decimals_for(measure) if decimals is None else decimals
    low, high = (number(v, digits, signed=signed) for v in (measure.low, measure.high))
    return said("{low} to {high}", low=low, high=high)


def clock(seconds: float) -> str:
    """Write a duration as minutes and seconds."""
    whole = round(seconds)
    return f"{whole // 60}:{whole % 60:02d}"


def amount(value: float, unit: str) -> str:
    """Write an entered number as it was entered."""
    return f"{value:g}{_unit(unit)}"


def _unit(unit: str) -> str:
    return f"\N{NO-BREAK SPACE}{unit}" if unit else ""
