"""Picked bouts set beside the first of them, with a verdict where the interval allows one."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from livemon.analyse.compare import (
    CLEAR,
    DROP,
    HALF_TIME,
    LATE_LEVEL,
    SLOPE,
    Comparison,
    Side,
    compare,
)
from livemon.analyse.compare import Row as Difference
from livemon.reworded.analysis import analysis_said
from livemon.tongue import marked, said, said_n
from livemon.view.bouts_numbers import Cell, cell
from livemon.view.bouts_source import PlacedBout
from livemon.view.words import sentence_case

MANY: Final = marked("Of ten comparisons without any real difference, one looks clear by chance.")
#: name with its unit, decimals.
_COLUMN: Final = {
    DROP.name: (marked("Drop, points"), 0),
    LATE_LEVEL.name: (marked("Late level, points"), 0),
    SLOPE.name: (marked("Slope, %/min"), 1),
    HALF_TIME.name: (marked("Half-recovery time, s"), 0),
}


@dataclass(frozen=True, slots=True)
class DifferenceRow:
    """One quantity of one bout against the first.

    Attributes:
        clear: whether the verdict says that a difference is there.
    """

    place: int
    bout: str
    site: str
    quantity: str
    difference: Cell
    verdict: str
    clear: bool


@dataclass(frozen=True, slots=True)
class Differences:
    """The table; `note` says what it is set against, or why there is none."""

    note: str
    rows: tuple[DifferenceRow, ...]


def differences(picked: Sequence[PlacedBout], sites: Sequence[str]) -> Differences:
    """Compare every picked bout with the first picked one."""
    if len(picked) < 2:
        return Differences(said("Pick two bouts or more: each is set beside the first."), ())
    first = picked[0]
    rows = [row for other in picked[1:] for row in _against(first, other, sites)]
    clear = sum(row.clear for row in rows)
    told = said_n(
        "Each bout less {first}. {clear} clear of {n} looked at.",
        "Each bout less {first}. {clear} clear of {n} looked at.",
        len(rows), first=first.label, clear=clear,
    )  # fmt: skip
    note = f"{told} {said(MANY)}"
    if len({p.key.recording for p in picked}) > 1:
        apart = said("Between recordings a new placement alone changes levels by up to 15 points.")
        note = f"{note} {apart}"
    return Differences(note, tuple(rows))


def _against(first: PlacedBout, other: PlacedBout, sites: Sequence[str]) -> Iterator[DifferenceRow]:
    found = compare(_side(first), _side(other))
    yield _heart(other, found)
    for row in found.rows:
        if row.site in sites:
            yield _row(other, row)


def _side(placed: PlacedBout) -> Side:
    found = placed.found
    return Side(found.bout.number, placed.key.recording, found.heart_rate, found.muscles)


def _heart(other: PlacedBout, found: Comparison) -> DifferenceRow:
    verdict = {
        None: said("not known in both"),
        True: said("alike: the rest can be compared"),
        False: said("not alike: no verdicts"),
    }[found.alike]
    shown = cell(found.heart_rate, 0, signed=True)
    return DifferenceRow(
        other.place, other.label, said("Heart rate"), said("Late mean, bpm"), shown, verdict, False
    )


def _row(other: PlacedBout, row: Difference) -> DifferenceRow:
    name, decimals = _COLUMN[row.quantity]
    return DifferenceRow(
        other.place,
        other.label,
        sentence_case(row.site),
        said(name),
        cell(row.difference, decimals, signed=True),
        analysis_said(row.verdict),
        row.verdict in CLEAR,
    )
