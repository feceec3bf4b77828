"""Is it a fall, or something that looks like one?

A slip is a single step: over the same seconds, the best step competes with the best ramp, each
fitted by generalised least squares; half the square of its size in standard errors is its
log-likelihood over "level".

The onset of harder work is an exponential that is dying out (delay about 10 s, time constant
8-25 s: DeLorey 2003, J Appl Physiol 95:113; Grassi 2003, 95:149; from memory). A ramp of the right
age describes it nearly as well, save for one thing: when the onset has gone on for one to two time
constants, its newest slope is a third to a half of its mean slope, while a ramp's is all of it.
"""

from dataclasses import dataclass
from functools import cache
from math import log
from typing import Final

import numpy as np

from livemon.estimate.bank import LINES_S, Readings
from livemon.estimate.contrasts import Contrasts, Weights, shape
from livemon.estimate.falling import Fall
from livemon.estimate.noise import PERSISTENCES

_RAMP_AGES_S: Final = (10, 12, 14, 17, 20, 24, 29, 35, 42, 50, 60, 72, 86, 100)
_STEP_AGES_S: Final = (3, 5, 7, 9, 12, 15, 19, 24, 30, 38, 48, 60, 80)
_BEFORE_AT_LEAST_S: Final = 6  #: level that a step has to come from

#: The newest part of a fall that is compared with the whole.
_NEWEST: Final = 0.42
#: Newest slope over mean slope of an onset after one to two time constants, and its spread.
_ONSET_KEEPS: Final = 0.42
_ONSET_SPREAD: Final = 0.17
#: No muscle falls along a ruler; a ramp's newest slope strays from its mean by this much.
_RAMP_SPREAD: Final = 0.15


_STEEPENS: Final = 1.5  #: a fall may grow steeper by this factor


@dataclass(frozen=True, slots=True)
class _Shapes:
    contrasts: Contrasts
    ramps: int  #: how many of the first are ramps; the others are steps


@cache
def _shapes(span_s: int, persistence: int) -> _Shapes:
    phi = PERSISTENCES[persistence]
    t = np.arange(-span_s + 1.0, 1.0)
    last_s = span_s - _BEFORE_AT_LEAST_S
    ramps = [shape(np.maximum(t + a, 0.0), phi) for a in _RAMP_AGES_S if a <= last_s]
    ramps.append(shape(t, phi))
    steps = [shape((t > -a).astype(np.float64), phi) for a in _STEP_AGES_S if a <= last_s]
    return _Shapes(Contrasts([*ramps, *steps]), len(ramps))


def lead_over_step(window: Weights, semivariogram: Weights, span_s: int, persistence: int) -> float:
    """Return by how many nats a ramp describes the last `span_s` seconds better than a step."""
    shapes = _shapes(span_s, persistence)
    sizes = shapes.contrasts.values(window)
    fits = [-size * grip for size, grip in zip(sizes, shapes.contrasts.grips, strict=True)]
    by_ramp = max(fits[: shapes.ramps])
    by_step = max(*fits[shapes.ramps :], 0.0)
    if by_ramp <= 0.0:
        return -by_step
    ramp = fits.index(by_ramp)
    nats = 0.5 * (sizes[ramp] / shapes.contrasts.errors(semivariogram)[ramp]) ** 2
    return nats * (1.0 - (by_step / by_ramp) ** 2)


def lead_over_onset(readings: Readings, fall: Fall) -> float:
    """Return by how many nats the newest slope speaks for a ramp and against a dying onset."""
    newest_s = max(_NEWEST * fall.age_s, LINES_S[0])
    at = 0
    while LINES_S[at + 1] <= newest_s:  # the oldest fall's newest part is shorter than the last
        at += 1
    keeps = -readings.lines[at] / fall.rate_pct_per_min
    blur = readings.line_errors[at] / fall.rate_pct_per_min
    as_ramp = blur * blur + _RAMP_SPREAD * _RAMP_SPREAD
    as_onset = blur * blur + _ONSET_SPREAD * _ONSET_SPREAD
    # Steeper than its mean speaks for a ramp no more than as steep, and much steeper for a step.
    over = max(1.0 - keeps, keeps - _STEEPENS, 0.0)
    under = min(keeps, 1.0) - _ONSET_KEEPS
    return (
        0.5 * log(as_onset / as_ramp)
        - over * over / (2.0 * as_ramp)
        + under * abs(under) / (2.0 * as_onset)
    )
