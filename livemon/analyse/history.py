"""One quantity over months, and the band within which it counts as unchanged."""

from collections.abc import Sequence
from dataclasses import dataclass

from livemon.analyse.compare import Quantity
from livemon.analyse.measure import Measure


@dataclass(frozen=True, slots=True)
class Point:
    """One recording's figure.

    Attributes:
        recording: tells recordings apart.
        started_utc: when it was made, ISO 8601; a label, never calculated with.
    """

    recording: str
    started_utc: str
    figure: Measure


@dataclass(frozen=True, slots=True)
class History:
    """A quantity over several recordings, oldest first.

    Attributes:
        band: limits around the first known figure that a new placement alone can reach; None
            where no such limit is published or nothing is known.
        changed: for each point, "higher", "lower", or empty for no change that counts.
    """

    quantity: str
    points: tuple[Point, ...]
    band: tuple[float, float] | None
    changed: tuple[str, ...]


def history(quantity: Quantity, points: Sequence[Point]) -> History:
    """Put figures of one athlete, site and kind of work in order, and say which differ."""
    ordered = tuple(sorted(points, key=lambda p: (p.started_utc, p.recording)))
    known = [p.figure.value for p in ordered if p.figure.value is not None]
    if not known or quantity.smallest_between is None:
        return History(quantity.name, ordered, None, ("",) * len(ordered))
    band = known[0] - quantity.smallest_between, known[0] + quantity.smallest_between
    return History(quantity.name, ordered, band, tuple(_changed(p.figure, band) for p in ordered))


def _changed(figure: Measure, band: tuple[float, float]) -> str:
    if figure.value is None or band[0] < figure.value < band[1]:
        return ""
    return "higher" if figure.value >= band[1] else "lower"
