"""Did the level jump within a stretch? A sensor that slipped, or another load, but no trend.

A line with one step in it is fitted for every place of the step, and held against a parabola, which
has as many parameters less the place. Muscles bend; they don't step.
"""

from dataclasses import dataclass
from math import sqrt
from typing import Final

import numpy as np

from livemon.analyse.bins import Bins
from livemon.analyse.series import Floats

_EACH_SIDE: Final = 3  # bins
SMALLEST_JUMP_PCT: Final = 3.0
# By simulation (200 s, noise of SD 1 to 1.4 that lasts 5 to 15 s): of level, falling, bending and
# refilling traces 0 to 1 % pass this; of steps by 4 points 40 to 90 %, by 7 points 90 to 100 %.
_TIMES_BETTER: Final = 2.0


@dataclass(frozen=True, slots=True)
class Jump:
    """A step in a trace.

    Attributes:
        t_s: when the new level begins.
        size: new level less old, in the trace's unit.
    """

    t_s: float
    size: float


def find_jump(bins: Bins) -> Jump | None:
    """Return the step that explains a stretch far better than a bend would; None if none does."""
    n = len(bins)
    if n < 2 * _EACH_SIDE + 2:
        return None
    dt = bins.t_s - bins.t_s.mean()
    flat = np.full(n, 1 / sqrt(n))
    tilted = _without(dt, flat)
    bent = _without(dt * dt, flat, tilted)
    residuals = bins.values - bins.values.mean()
    residuals = residuals - tilted * _along(tilted, residuals)
    total = _along(residuals, residuals)
    left_by_bend = total - _along(bent, residuals) ** 2
    places = np.arange(_EACH_SIDE, n - _EACH_SIDE + 1)
    # For a step of height 1 from each place on: what is left of it beside level and slope, and how
    # much of the residuals lies along that.
    after = n - places
    lengths = after - after * after / n - _from(tilted)[places] ** 2
    along = _from(residuals)[places]
    gains = along * along / lengths
    best = int(np.argmax(gains))
    size = float(along[best] / lengths[best])
    left_by_step = total - float(gains[best])
    if abs(size) < SMALLEST_JUMP_PCT or left_by_bend <= _TIMES_BETTER * left_by_step:
        return None
    return Jump(float(bins.t_s[places[best]]), size)


def _from(values: Floats) -> Floats:
    """Return the sum from each place to the end."""
    return np.cumsum(values[::-1])[::-1]


def _along(a: Floats, b: Floats) -> float:
    return float((a * b).sum())


def _without(values: Floats, *shapes: Floats) -> Floats:
    """Take `shapes` of length 1 out of `values`, and bring the rest to length 1."""
    for shape in shapes:
        values = values - shape * _along(shape, values)
    length = sqrt(_along(values, values))
    return values / length if length > 0 else values
