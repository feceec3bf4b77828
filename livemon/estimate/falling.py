"""The best evidence of a fall: since when, how steep, how certain.

Within one span of seconds the bend that explains most is the most likely one; between spans, and
the straight lines for when there was no level before, the most certain one is taken.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from livemon.estimate.bank import BENDS, LINES_S, SPANS, Readings

_SHORTEST_LINE: Final = 5  #: index in LINES_S; shorter ones are for what happens now

#: From this much history on a level before the fall is asked for.
_LEVEL_KNOWN_S: Final = 62


@dataclass(frozen=True, slots=True)
class Fall:
    """A fall, if it is one."""

    rate_pct_per_min: float  #: positive when falling
    error_pct_per_min: float
    age_s: int
    span_s: int  #: seconds that were looked at, the level before included
    certainty: float  #: standard errors beyond the margin


def falls_after_levels(
    readings: Readings, length: int, margin_pct_per_min: float
) -> Iterator[Fall]:
    """Yield the likeliest bend within each span, the shortest span first.

    A long span may see an onset that hides a fall which began after it.
    """
    slopes, errors, grips = readings.bends, readings.bend_errors, readings.bend_grips
    first = 0
    for span_s, ages_s in SPANS:
        if span_s > length:
            return
        ours = range(first, first + len(ages_s))
        first += len(ages_s)
        at = max(ours, key=lambda i: -slopes[i] * grips[i])
        certainty = (-slopes[at] - margin_pct_per_min) / errors[at]
        yield Fall(-slopes[at], errors[at], BENDS[at][1], span_s, certainty)


def best_fall(readings: Readings, length: int, margin_pct_per_min: float) -> Fall | None:
    """Return the strongest evidence, or None if `length` seconds of history are too few."""
    slopes, errors, grips = readings.bends, readings.bend_errors, readings.bend_grips
    first = 0
    best: tuple[float, float, float, int, int] | None = None
    for span_s, ages_s in SPANS:
        if span_s > length:
            break
        top, at = 0.0, -1
        for i in range(first, first + len(ages_s)):
            fit = -slopes[i] * grips[i]
            if fit > top:
                top, at = fit, i
        first += len(ages_s)
        if at < 0:
            continue
        certainty = (-slopes[at] - margin_pct_per_min) / errors[at]
        if best is None or certainty > best[0]:
            best = (certainty, -slopes[at], errors[at], BENDS[at][1], span_s)
    if length >= _LEVEL_KNOWN_S and best is not None:
        return _fall(best)
    slopes, errors = readings.lines, readings.line_errors
    for i in range(_SHORTEST_LINE, len(LINES_S)):
        if LINES_S[i] > length:
            break
        certainty = (-slopes[i] - margin_pct_per_min) / errors[i]
        if best is None or certainty > best[0]:
            best = (certainty, -slopes[i], errors[i], LINES_S[i], LINES_S[i])
    return None if best is None else _fall(best)


def _fall(best: tuple[float, float, float, int, int]) -> Fall:
    certainty, rate, error, age_s, span_s = best
    return Fall(rate, error, age_s, span_s, certainty)
