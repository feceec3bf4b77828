"""Is there a fall, how old is it, and is it a fall rather than something that looks like one?

Stage one, each second: the bend or line whose slope lies the most standard errors below a margin.
Stage two, only when stage one is near to a warning: is a ramp a better description of the same
seconds than a single step (a slip) or an exponential that is dying out (the onset of harder work)?
"""

from dataclasses import dataclass
from functools import cache
from math import exp
from typing import Final

import numpy as np

from livemon.estimate.bank import BEND_AGES_S, LINES_S, Readings, level_before_s
from livemon.estimate.contrasts import Weights
from livemon.series.bins import HISTORY_S

_ONSET_TIME_CONSTANTS_S: Final = (8.0, 14.0, 22.0)
_STEP_PARTS: Final = (0.25, 0.5, 0.75, 1.0)


@dataclass(frozen=True, slots=True)
class Fall:
    """The best evidence of a fall."""

    rate_pct_per_min: float  #: positive when falling
    error_pct_per_min: float
    age_s: int
    certainty: float  #: standard errors beyond the margin


def best_fall(
    readings: Readings, supports: tuple[int, ...], length: int, margin: float
) -> Fall | None:
    """Return the strongest evidence, or None if the history is too short for any."""
    best: Fall | None = None
    top = -1e9
    at = -1
    bends = len(readings.bends)
    for i in range(bends):
        if supports[i] > length:
            break
        z = (-readings.bends[i] - margin) / readings.bend_errors[i]
        if z > top:
            top, at = z, i
    for i in range(3, len(readings.lines)):
        if supports[bends + i] > length:
            break
        z = (-readings.lines[i] - margin) / readings.line_errors[i]
        if z > top:
            top, at = z, bends + i
    if at < 0:
        return None
    if at < bends:
        best = Fall(-readings.bends[at], readings.bend_errors[at], BEND_AGES_S[at], top)
    else:
        j = at - bends
        best = Fall(-readings.lines[j], readings.line_errors[j], LINES_S[j], top)
    return best


@cache
def _shapes(age_s: int) -> tuple[int, Weights, Weights]:
    """Return window length, and unit-length centred shapes: one ramp row, rival rows."""
    before = level_before_s(age_s)
    t = np.arange(-before + 1.0, age_s + 1.0)
    ramp = np.maximum(t, 0.0)
    rivals = [(t > age_s * (1.0 - part)).astype(np.float64) for part in _STEP_PARTS]
    rivals += [
        np.array([1.0 - exp(-max(x, 0.0) / tau) for x in t]) for tau in _ONSET_TIME_CONSTANTS_S
    ]
    return len(t), _unit(ramp), np.array([_unit(r) for r in rivals])


def _unit(shape: Weights) -> Weights:
    centred = shape - shape.sum() / len(shape)
    unit: Weights = centred / np.sqrt((centred * centred).sum())
    return unit


def ramp_lead(window: Weights, length: int, age_s: int) -> float:
    """Return how much more of the variation a ramp explains than its best rival, 0..1 scale.

    Positive favours the ramp. The rivals are steps and dying exponentials over the same seconds.
    """
    n, ramp, rivals = _shapes(age_s)
    n = min(n, length)
    part = window[HISTORY_S - n :]
    part = part - part.sum() / n
    total = float((part * part).sum())
    if total <= 0.0:
        return 0.0
    a = ramp[-n:]
    by_ramp = float((part * a).sum())
    by_rivals = (rivals[:, -n:] * part).sum(axis=1)
    rival = float(np.min(by_rivals))
    gain_ramp = by_ramp * by_ramp if by_ramp < 0 else 0.0
    gain_rival = rival * rival if rival < 0 else 0.0
    return (gain_ramp - gain_rival) / total
