"""Measures as the Bouts page writes them: value and interval, or a dash whose reason is told."""

from dataclasses import dataclass

from livemon.analyse.bout import Intensity
from livemon.analyse.measure import Measure
from livemon.analyse.numbers import number
from livemon.reworded.analysis import analysis_said
from livemon.tongue import said
from livemon.view.numbers import DASH

_HARD_SPACE = "\N{NO-BREAK SPACE}"


@dataclass(frozen=True, slots=True)
class Cell:
    """One figure in a table.

    Attributes:
        text: value and interval; a dash when it is not known.
        tip: the reason for a dash, or what the figure says; may be empty.
        known: whether there is a value.
    """

    text: str
    tip: str = ""
    known: bool = True


def cell(measure: Measure, decimals: int, *, signed: bool = False) -> Cell:
    """Write a measure for a column that names its unit."""
    if measure.value is None:
        return missing(analysis_said(measure.reason) or said("not known"))
    return Cell(bare(measure, decimals, signed=signed))


def missing(reason: str) -> Cell:
    """Return the dash that stands for what isn't known."""
    return Cell(DASH, reason, known=False)


def bare(measure: Measure, decimals: int, *, signed: bool = False) -> str:
    """Write value and interval without a unit; a dash when it is not known."""
    if measure.value is None:
        return DASH
    value = number(measure.value, decimals, signed=signed)
    if measure.low is None or measure.high is None:
        return value
    low, high = (number(v, decimals, signed=signed) for v in (measure.low, measure.high))
    return said("{value} ({low} to {high})", value=value, low=low, high=high)


def with_unit(measure: Measure, decimals: int, *, signed: bool = False) -> str:
    """Write value, unit and interval; the reason when it is not known."""
    if measure.value is None:
        return analysis_said(measure.reason) or said("not known")
    unit = f"{_HARD_SPACE}{measure.unit}" if measure.unit else ""
    value = number(measure.value, decimals, signed=signed)
    if measure.low is None or measure.high is None:
        return f"{value}{unit}"
    low, high = (number(v, decimals, signed=signed) for v in (measure.low, measure.high))
    return said("{value} ({low} to {high})", value=f"{value}{unit}", low=low, high=high)


def intensity_words(intensity: Intensity) -> str:
    """Write a load as it was entered."""
    return f"{intensity.value:g}{_HARD_SPACE}{intensity.unit}".rstrip(_HARD_SPACE)
