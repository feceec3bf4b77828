"""Make a sensor's noise white, knowing all about it: the innovations of a Kalman filter.

The noise model is that of `livemon.synthetic.oximeter`: a part that is new in each reading, an
AR(1) part, the device's own first-order smoothing over both, and rounding after it. The pulse of
the cadence counts as new in each reading. Steady-state gain (Kailath, Sayed and Hassibi, Linear
Estimation, 2000, chapter 9; from memory).
"""

from dataclasses import dataclass
from math import exp, sqrt
from typing import Final

import numpy as np

from livemon.synthetic.body import Floats
from livemon.synthetic.oximeter import Oximeter

_SETTLED: Final = 1e-10
_ENOUGH_STEPS: Final = 5000
#: Readings carry this much at least, or a perfect sensor would have a singular filter.
_FLOOR_VAR: Final = 1e-4


@dataclass(frozen=True, slots=True)
class Whitener:
    """A linear filter with two states: the AR(1) part, and what the device shows."""

    keep_wander: float
    keep_shown: float
    gain_wander: float
    gain_shown: float
    innovation_sd: float

    def __call__(self, values: Floats) -> Floats:
        """Return the innovations, with variance 1 where `values` is this noise."""
        wander = shown = 0.0
        fresh = 1 - self.keep_shown
        out = []
        for value in values.tolist():
            innovation = value - shown
            out.append(innovation)
            wander = self.keep_wander * (wander + self.gain_wander * innovation)
            shown = self.keep_shown * (shown + self.gain_shown * innovation) + fresh * wander
        return np.array(out) / self.innovation_sd


def whitener(oximeter: Oximeter, louder: float = 1.0) -> Whitener:
    """Return the filter that makes the noise of `oximeter`, `louder` times, white."""
    step_s = 1 / oximeter.rate_hz
    keep = exp(-step_s / oximeter.wander_tau_s)
    held = exp(-step_s / oximeter.smoothing_s) if oximeter.smoothing_s > 0 else 0.0
    fresh = 1 - held
    white_var = louder**2 * (oximeter.white_sd**2 + oximeter.ripple_sd**2)
    push_var = (louder * oximeter.wander_sd) ** 2 * (1 - keep**2)
    move = np.array([[keep, 0.0], [fresh * keep, held]])
    noise = np.array(
        [[push_var, fresh * push_var], [fresh * push_var, fresh**2 * (push_var + white_var)]]
    )
    rounding_var = oximeter.step_pct**2 / 12 + _FLOOR_VAR
    cov = noise.copy()
    for _ in range(_ENOUGH_STEPS):
        before = cov
        total = cov[1, 1] + rounding_var
        cov = move @ (cov - np.outer(cov[:, 1], cov[1]) / total) @ move.T + noise
        if np.abs(cov - before).max() < _SETTLED:
            break
    total = float(cov[1, 1] + rounding_var)
    return Whitener(keep, held, float(cov[0, 1]) / total, float(cov[1, 1]) / total, sqrt(total))
