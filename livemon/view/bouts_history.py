"""A quantity over the months: a point for each recording, and the band of no change."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from livemon.analyse.compare import DROP, HALF_TIME, LATE_LEVEL, SLOPE, Quantity
from livemon.analyse.history import Point, history
from livemon.analyse.measure import Measure
from livemon.analyse.muscle import MuscleBout
from livemon.reworded.analysis import analysis_said
from livemon.tongue import marked, said
from livemon.view.bouts_numbers import Cell, cell
from livemon.view.bouts_source import BoutsSession, PlacedBout, placed_bouts
from livemon.view.words import sentence_case


@dataclass(frozen=True, slots=True)
class HistoryQuantity:
    """What can be followed: name as on the screen, unit, decimals, and where it is found."""

    name: str
    unit: str
    decimals: int
    quantity: Quantity
    find: Callable[[MuscleBout], Measure]


QUANTITIES: Final = (
    HistoryQuantity(marked("drop"), marked("points"), 0, DROP, lambda m: m.depth.drop),
    HistoryQuantity(marked("late level"), "%", 0, LATE_LEVEL, lambda m: m.late.level),
    HistoryQuantity(marked("slope"), "%/min", 1, SLOPE, lambda m: m.late.slope),
    HistoryQuantity(
        marked("half-recovery time"), "s", 0, HALF_TIME, lambda m: m.recovery.half_time
    ),
)


#: How a figure stands to the first one.
_CHANGES: Final = {"higher": marked("higher"), "lower": marked("lower")}


@dataclass(frozen=True, slots=True)
class HistoryDot:
    """One recording's figure.

    Attributes:
        at_s: when, in seconds since 1970; None if the recording doesn't say.
        change: "higher", "lower", or what no change means here.
    """

    day: str
    bout: str
    at_s: float | None
    figure: Measure
    shown: Cell
    change: str


@dataclass(frozen=True, slots=True)
class HistoryModel:
    """The quantity over time.

    Attributes:
        band: between these nothing counts as changed; None where no such limit is published.
        note: how to read it, or why there is nothing.
    """

    title: str
    dots: tuple[HistoryDot, ...]
    band: tuple[float, float] | None
    note: str


def kinds_of(sessions: Sequence[BoutsSession]) -> tuple[str, ...]:
    """Return every kind of work, in the order of the bouts."""
    return tuple(dict.fromkeys(b.found.bout.kind for b in placed_bouts(sessions)))


def history_model(
    sessions: Sequence[BoutsSession], followed: HistoryQuantity, site: str, kind: str
) -> HistoryModel:
    """Follow a quantity through the recordings.

    Of several bouts of one kind in a recording the first counts: it comes after the least work.
    """
    first: dict[str, tuple[PlacedBout, Measure]] = {}
    for placed in placed_bouts(sessions):
        muscle = next((m for m in placed.found.muscles if m.site == site), None)
        if placed.found.bout.kind == kind and muscle is not None:
            first.setdefault(placed.key.recording, (placed, followed.find(muscle)))
    points = [
        Point(recording, placed.session.started_utc, figure)
        for recording, (placed, figure) in first.items()
    ]
    found = history(followed.quantity, points)
    dots = tuple(
        HistoryDot(
            first[p.recording][0].session.day,
            said("Bout {number}", number=first[p.recording][0].found.bout.number),
            seconds_of(p.started_utc),
            p.figure,
            cell(p.figure, followed.decimals),
            _change(p.figure, changed, banded=found.band is not None),
        )
        for p, changed in zip(found.points, found.changed, strict=True)
    )
    title = said(
        "{quantity}, {unit}: {site}, {kind}",
        quantity=sentence_case(said(followed.name)),
        unit=said(followed.unit),
        site=site,
        kind=kind or said("work"),
    )
    return HistoryModel(title, dots, found.band, _note(dots, found.band, followed))


def seconds_of(started_utc: str) -> float | None:
    """Return the label on a recording as a place on an axis of time."""
    try:
        return datetime.fromisoformat(started_utc).timestamp()
    except (ValueError, OverflowError, OSError):
        return None


def _change(figure: Measure, changed: str, *, banded: bool) -> str:
    if figure.value is None:
        return analysis_said(figure.reason)
    if not banded:
        return said("no limit of change is published")
    return said(_CHANGES[changed]) if changed else said("no change that counts")


def _note(
    dots: Sequence[HistoryDot], band: tuple[float, float] | None, followed: HistoryQuantity
) -> str:
    if not dots:
        return said("No recording has such a bout at this site.")
    if all(dot.figure.value is None for dot in dots):
        return said("The figure is not known in any recording; the table says why.")
    if band is None:
        return said(
            "How much a new placement changes the {quantity} is not published: no band, "
            "and no verdict.",
            quantity=said(followed.name),
        )
    half = (band[1] - band[0]) / 2
    return said(
        "Between the dotted lines nothing counts as changed: {half} {unit} either "
        "side of the first figure can come from a new placement alone.",
        half=f"{half:.0f}",
        unit=said(followed.unit),
    )
