"""The rows of the list that bouts are picked from."""

from collections.abc import Sequence
from dataclasses import dataclass

from livemon.tongue import said
from livemon.view.bouts_numbers import intensity_words
from livemon.view.bouts_source import BoutKey, PlacedBout
from livemon.view.numbers import clock
from livemon.view.words import sentence_case


@dataclass(frozen=True, slots=True)
class PickRow:
    """One bout to pick.

    Attributes:
        spoken: all of it in one sentence, for those who hear the list.
    """

    key: BoutKey
    place: int
    title: str
    detail: str
    spoken: str


def pick_rows(bouts: Sequence[PlacedBout]) -> tuple[PickRow, ...]:
    """Return a row for each bout."""
    several = len({bout.key.recording for bout in bouts}) > 1
    return tuple(_row(bout, several=several) for bout in bouts)


def first_picks(bouts: Sequence[PlacedBout], most: int) -> tuple[BoutKey, ...]:
    """Return what is picked at first: the last bouts, the ones that were just done."""
    return tuple(bout.key for bout in bouts[-most:])


def _row(placed: PlacedBout, *, several: bool) -> PickRow:
    bout, heart = placed.found.bout, placed.found.heart_rate
    parts = [clock(bout.duration_s)]
    if bout.intensity is not None:
        parts.append(intensity_words(bout.intensity))
    if heart.late_mean.value is None:
        parts.append(said("heart rate not known"))
    else:
        parts.append(f"{heart.late_mean.value:.0f} bpm")
    if bout.rpe is not None:
        parts.append(said("RPE {rpe}", rpe=f"{bout.rpe:g}"))
    if several and placed.session.day:
        parts.insert(0, placed.session.day)
    kind = bout.kind or said("work")
    return PickRow(
        placed.key,
        placed.place,
        f"{bout.number}  {sentence_case(kind)}",
        " · ".join(parts),
        said(
            "Bout {number}, {kind}, {facts}", number=bout.number, kind=kind, facts=", ".join(parts)
        ),
    )
