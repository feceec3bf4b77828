"""The shapes that heart rate is compared with: ways to another level, begun long or short ago.

The time constant after a change of load is 30-60 s (Hunt 2015, Biomed Eng Online, PMC4687158;
Yoshida & Whipp 1994, J Physiol).
"""

from math import exp
from typing import Final

import numpy as np

from livemon.estimate.contrasts import Contrasts, Weights, line, shape

_TAU_S: Final = 42.0  #: time constant that is looked for; one of 28 or 60 s fits it well enough
#: Ages in seconds of load changes that are looked for, and the level before them.
AGES_S: Final = (12, 16, 20, 25, 31, 38, 47, 58, 72, 90, 112, 135)
BEFORE_S: Final = 40
BEFORE_SHORT_S: Final = 15
LINES_S: Final = (25, 40)
#: Windows that look at the end of a way: from long ago, most of it behind.
TAILS_S: Final = (40, 60)
LONG_AGO_S: Final = 55  #: age from which on a way's end is looked at by itself


def _approach(age_s: int, before_s: int) -> Weights:
    return np.array([0.0] * before_s + [1.0 - exp(-i / _TAU_S) for i in range(1, age_s + 1)])


def _tail(window_s: int) -> Weights:
    return np.array([exp(-i / _TAU_S) for i in range(-window_s + 1, 1)])


LOOKS: Final = tuple(
    (age_s, before_s) for before_s in (BEFORE_S, BEFORE_SHORT_S) for age_s in AGES_S
)
HEART: Final = Contrasts(
    [
        *(shape(_approach(age_s, before_s)) for age_s, before_s in LOOKS),
        *(line(window_s) for window_s in LINES_S),
        *(shape(_tail(window_s)) for window_s in TAILS_S),
    ]
)
FIRST_LINE: Final = len(LOOKS)
FIRST_TAIL: Final = FIRST_LINE + len(LINES_S)
#: bpm/min now for each bpm of a way's size, and of a tail's.
SPEED_NOW: Final = tuple(exp(-age_s / _TAU_S) * 60.0 / _TAU_S for age_s, _ in LOOKS)
TAIL_SPEED: Final = 60.0 / _TAU_S

#: Means of so many seconds, some time back: how far heart rate is from there.
MEAN_S: Final = 10
BACK_S: Final = (30, 60, 120)

#: What each number of `HeartSteadiness.evidence` is, in its order.
HEART_NAMES: Final = (
    "heart: seconds steady",
    "heart: certainty of a way",
    "heart: drift",
    "heart: eased",
    "heart: silent",
    *(f"heart: certainty of a way begun {age} s ago, {before} s level" for age, before in LOOKS),
    *(f"heart: {name}" for name in ("line", "line's certainty", "longer line")),
    *(f"heart: {name}" for name in ("speed of a tail", "certainty of a tail")),
    *(f"heart: above {back_s} s ago" for back_s in BACK_S),
)
