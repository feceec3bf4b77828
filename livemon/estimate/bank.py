"""The contrasts of one muscle site, all taken in one pass each second.

Bends of many ages ask "did a level turn into a fall so many seconds ago?", lines of many lengths
"how steep is it now?", knees "has the fall bent so many seconds ago, and how steep is it since?".
Which of them to believe is decided elsewhere. Each exists once for every persistence of the noise.
"""

from dataclasses import dataclass
from typing import Final

from livemon.estimate.contrasts import Contrasts, Weights, bend, knee, line
from livemon.estimate.noise import PERSISTENCES

#: Seconds that a bend and the level before it span together, and the ages that are looked for in
#: each: closer together where a second matters. Ages compete fairly only within one span.
SPANS: Final = (
    (32, (8, 10, 12, 14, 17, 20, 24)),
    (62, (8, 10, 12, 14, 17, 20, 24, 29, 35, 42, 50)),
    (120, (17, 24, 35, 42, 50, 60, 72, 86, 100)),
)

#: (span, age) of each bend.
BENDS: Final = tuple((span_s, age_s) for span_s, ages_s in SPANS for age_s in ages_s)

#: Windows in seconds of straight lines.
LINES_S: Final = (6, 8, 10, 12, 15, 20, 26, 34, 45, 60, 80)

#: Seconds since the end of a fall that is looked for, and of the fall before it.
KNEES: Final = (
    (4, 16), (6, 20), (9, 24), (13, 28), (18, 30), (25, 34),
    (6, 44), (9, 46), (13, 46), (18, 48), (25, 50), (36, 50), (50, 50),
)  # fmt: skip

_BENDS: Final = slice(0, len(BENDS))
_LINES: Final = slice(len(BENDS), len(BENDS) + len(LINES_S))
_KNEES: Final = slice(len(BENDS) + len(LINES_S), None)


def _contrasts(persistence: float) -> Contrasts:
    return Contrasts(
        [
            *(bend(age_s, span_s - age_s, persistence) for span_s, age_s in BENDS),
            *(line(window_s, persistence) for window_s in LINES_S),
            *(knee(after_s, before_s, persistence) for after_s, before_s in KNEES),
        ]
    )


#: One for each of PERSISTENCES.
MUSCLE: Final = tuple(_contrasts(persistence) for persistence in PERSISTENCES)

#: Seconds of history that each knee needs.
KNEE_NEEDS_S: Final = tuple(after_s + before_s for after_s, before_s in KNEES)


@dataclass(frozen=True, slots=True)
class Readings:
    """Slopes in %/min with their standard errors; those that need more history mean nothing."""

    bends: list[float]
    bend_errors: list[float]
    bend_grips: tuple[float, ...]
    lines: list[float]
    line_errors: list[float]
    knees: list[float]
    knee_errors: list[float]


def read(contrasts: Contrasts, window: Weights, errors: list[float]) -> Readings:
    """Take all contrasts of `window`."""
    values = contrasts.values(window)
    return Readings(
        values[_BENDS], errors[_BENDS], contrasts.grips[_BENDS],
        values[_LINES], errors[_LINES],
        values[_KNEES], errors[_KNEES],
    )  # fmt: skip
