"""What limits, and which pace holds, in words: the finding, its evidence, its cautions."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Final

from livemon.analyse.measure import Measure
from livemon.analyse.session import SitePace
from livemon.reworded.analysis import analysis_said
from livemon.tongue import marked, said
from livemon.view.bouts_numbers import intensity_words, with_unit
from livemon.view.bouts_source import BoutsSession, PlacedBout
from livemon.view.words import sentence_case


class Weight(Enum):
    """How a paragraph is written."""

    HEADING = "heading"
    PLAIN = "plain"
    DIM = "dim"


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A line or more of text."""

    text: str
    weight: Weight = Weight.PLAIN


@dataclass(frozen=True, slots=True)
class PaceDot:
    """One bout in the picture of the pace: slope over intensity."""

    bout: int
    intensity: float
    slope: Measure


@dataclass(frozen=True, slots=True)
class PaceModel:
    """One site and one kind of work.

    Attributes:
        name: tells it from the others.
        unit: of intensity.
        line: slope per unit of intensity and the crossing, where both are known.
    """

    name: str
    unit: str
    dots: tuple[PaceDot, ...]
    holds: Measure
    line: tuple[float, float] | None
    words: tuple[Paragraph, ...]


TRAINING: Final = marked(
    "Training information, not a diagnosis. Local rules and licensed practice come first."
)
_LIMIT_CAUTION: Final = marked(
    "No study has tested this reading on single athletes. A heart rate at the top of a band says "
    "that the plan's limit was reached, not the body's."
)
_PACE_CAUTION: Final = marked(
    "Holds for this work, this day and this site. In ten runners the crossing lay at critical "
    "speed (Kirby et al. 2021); whether it does in this athlete is not known."
)


def limits(picked: Sequence[PlacedBout]) -> tuple[Paragraph, ...]:
    """Say for each picked bout what limited, and what speaks for it."""
    if not picked:
        return (Paragraph(said("Pick a bout to see what limited in it."), Weight.DIM),)
    return (
        *_limit_lines(picked),
        Paragraph(f"{said(_LIMIT_CAUTION)} {said(TRAINING)}", Weight.DIM),
    )


def _limit_lines(picked: Sequence[PlacedBout]) -> Iterator[Paragraph]:
    for placed in picked:
        found = placed.found.limiter
        yield Paragraph(f"{placed.label}: {analysis_said(found.limit.value)}", Weight.HEADING)
        for evidence in found.evidence:
            yield Paragraph(sentence_case(analysis_said(evidence)))
        if found.missing:
            missing = analysis_said(found.missing)
            yield Paragraph(said("Open: {missing}", missing=missing), Weight.DIM)


def paces(sessions: Sequence[BoutsSession]) -> tuple[PaceModel, ...]:
    """Return the pace that holds for each recording, site and kind of work."""
    several = len(sessions) > 1
    return tuple(
        _pace(session, found, several=several)
        for session in sessions
        for found in session.analysis.paces
    )


def no_pace() -> tuple[Paragraph, ...]:
    """Say what a pace that holds needs, when no bout has an intensity."""
    return (
        Paragraph(said("No pace that holds"), Weight.HEADING),
        Paragraph(
            said(
                "It needs bouts of one kind at three intensities at least: enter the load of each "
                "bout, or record power or speed."
            )
        ),
        Paragraph(said(TRAINING), Weight.DIM),
    )


def _pace(session: BoutsSession, found: SitePace, *, several: bool) -> PaceModel:
    pace = found.pace
    name = f"{sentence_case(found.site)}, {found.kind or said('work')}"
    if several and session.day:
        name += f", {session.day}"
    dots = tuple(PaceDot(p.bout, p.intensity.value, p.slope) for p in pace.points)
    line = None
    if pace.dependence.value is not None and pace.intensity.value is not None:
        line = pace.dependence.value, pace.intensity.value
    return PaceModel(
        name, pace.intensity.unit, dots, pace.intensity, line, tuple(_pace_words(name, found))
    )


def _pace_words(name: str, found: SitePace) -> Iterator[Paragraph]:
    pace, bend = found.pace, found.breakpoint
    yield Paragraph(said("Pace that holds: {what}", what=name), Weight.HEADING)
    yield Paragraph(sentence_case(with_unit(pace.intensity, _decimals(pace.intensity))))
    for point in pace.points:
        slope = with_unit(point.slope, 1, signed=True)
        yield Paragraph(
            said(
                "Bout {number}, {intensity}: {slope}",
                number=point.bout,
                intensity=intensity_words(point.intensity),
                slope=slope,
            )
        )
    if pace.intensity.value is not None:
        yield Paragraph(said(_PACE_CAUTION), Weight.DIM)
    yield Paragraph(said("Breakpoint: {at}", at=with_unit(bend.at, _decimals(bend.at))))
    if bend.at.value is not None:
        yield Paragraph(sentence_case(analysis_said(bend.caution)), Weight.DIM)
    yield Paragraph(said(TRAINING), Weight.DIM)


def _decimals(measure: Measure) -> int:
    """Return how many decimals a load of this size is told with."""
    if measure.value is None or abs(measure.value) >= 100:
        return 0
    return 1 if abs(measure.value) >= 10 else 2
