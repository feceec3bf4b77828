"""The contrasts of one muscle site, all taken in one pass each second.

Bends of many ages ask "did a level turn into a fall so many seconds ago?", lines of many lengths
"how steep is it now?". Which of them to believe is decided elsewhere.
"""

from dataclasses import dataclass
from typing import Final

from livemon.estimate.contrasts import Contrasts, Weights, bend, line

#: Ages in seconds of the falls that are looked for, closer together where a second matters.
BEND_AGES_S: Final = (8, 10, 12, 14, 17, 20, 24, 29, 35, 42, 50, 60, 75, 95, 120)

#: Windows in seconds of straight lines.
LINES_S: Final = (6, 8, 10, 12, 15, 20, 26, 34, 45, 60, 80)

#: The level before a fall counts for as long as the fall, within these limits: longer would
#: reach back into another piece of work.
_LEVEL_AT_LEAST_S: Final = 20
_LEVEL_AT_MOST_S: Final = 45


def level_before_s(age_s: int) -> int:
    """Return how many seconds of level before a fall of this age are looked at."""
    return min(max(age_s, _LEVEL_AT_LEAST_S), _LEVEL_AT_MOST_S)


_BENDS: Final = slice(0, len(BEND_AGES_S))
_LINES: Final = slice(len(BEND_AGES_S), len(BEND_AGES_S) + len(LINES_S))

MUSCLE: Final = Contrasts(
    [bend(age, level_before_s(age)) for age in BEND_AGES_S] + [line(w) for w in LINES_S]
)


@dataclass(frozen=True, slots=True)
class Readings:
    """Slopes in %/min with their standard errors, as far as the history reaches."""

    bends: list[float]
    bend_errors: list[float]
    lines: list[float]
    line_errors: list[float]


def read(window: Weights, errors: list[float]) -> Readings:
    """Take all contrasts of `window`."""
    values = MUSCLE.values(window)
    return Readings(values[_BENDS], errors[_BENDS], values[_LINES], errors[_LINES])
