"""Invented muscles and hearts, fed second by second."""

import random
from collections.abc import Iterable
from typing import Final

from livemon.estimate.heart import HeartSteadiness
from livemon.estimate.muscle import Muscle

STEADY_BPM: Final = 150.0


def line(seconds: int, start: float, end: float) -> list[float]:
    """Values on a straight line from `start` towards `end`."""
    return [start + (end - start) * i / seconds for i in range(seconds)]


#: The sensor was silent for so long that the series begins afresh; its noise is known by then.
AFRESH: Final = [*line(120, 70, 70), *([None] * 12)]


def fed(
    smo2: Iterable[float | None], bpm: Iterable[float | None]
) -> tuple[Muscle, HeartSteadiness]:
    """Feed both once a second, with white noise of 0.3 points and 0.5 bpm."""
    muscle, heart, chance = Muscle(None), HeartSteadiness(), random.Random(1)
    for pct, beats in zip(smo2, bpm, strict=True):
        noisy = None if pct is None else pct + chance.gauss(0.0, 0.3)
        muscle.update(noisy, warned=False)
        heart.update(None if beats is None else beats + chance.gauss(0.0, 0.5))
    return muscle, heart
