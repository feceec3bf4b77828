"""Make a sensor's noise white, knowing all about it: the innovations of a Kalman filter.

The noise model is that of `livemon.synthetic.oximeter`: a part that is new in each reading, two
AR(1) parts, the device's own first-order smoothing over all of them, and rounding after it. The
pulse of the cadence counts as new in each reading. Steady-state gain (Kailath, Sayed and Hassibi,
Linear Estimation, 2000, chapter 9; from memory).
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
    """A linear filter; its states are the wander, the slow waves, and what the device shows."""

    keep: tuple[float, float, float]
    gain: tuple[float, float, float]
    innovation_sd: float

    def __call__(self, values: Floats) -> Floats:
        """Return the innovations, with variance 1 where `values` is this noise."""
        keep_wander, keep_slow, held = self.keep
        gain_wander, gain_slow, gain_shown = self.gain
        fresh = 1 - held
        wander = slow = shown = 0.0
        out = []
        for value in values.tolist():
            innovation = value - shown
            out.append(innovation)
            wander = keep_wander * (wander + gain_wander * innovation)
            slow = keep_slow * (slow + gain_slow * innovation)
            shown = held * (shown + gain_shown * innovation) + fresh * (wander + slow)
        return np.array(out) / self.innovation_sd


def whitener(oximeter: Oximeter, louder: float = 1.0) -> Whitener:
    """Return the filter that makes the noise of `oximeter`, `louder` times, white."""
    step_s = 1 / oximeter.rate_hz
    keep_wander = exp(-step_s / oximeter.wander_tau_s)
    keep_slow = exp(-step_s / oximeter.slow_tau_s)
    held = exp(-step_s / oximeter.smoothing_s) if oximeter.smoothing_s > 0 else 0.0
    fresh = 1 - held
    pushes = louder**2 * np.array([
        oximeter.wander_sd**2 * (1 - keep_wander**2),
        oximeter.slow_sd**2 * (1 - keep_slow**2),
        oximeter.white_sd**2 + oximeter.ripple_sd**2,
    ])  # fmt: skip
    move = np.array([
        [keep_wander, 0.0, 0.0],
        [0.0, keep_slow, 0.0],
        [fresh * keep_wander, fresh * keep_slow, held],
    ])  # fmt: skip
    enters = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [fresh, fresh, fresh]])
    noise = enters * pushes @ enters.T
    rounding_var = oximeter.step_pct**2 / 12 + _FLOOR_VAR
    cov = noise
    for _ in range(_ENOUGH_STEPS):
        before = cov
        gain = cov[:, 2] / (cov[2, 2] + rounding_var)
        cov = move @ (cov - np.outer(gain, cov[2])) @ move.T + noise
        if np.abs(cov - before).max() < _SETTLED:
            break
    total = float(cov[2, 2] + rounding_var)
    wander, slow, shown = (cov[:, 2] / total).tolist()
    return Whitener((keep_wander, keep_slow, held), (wander, slow, shown), sqrt(total))
