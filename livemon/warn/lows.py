"""How low a muscle was before a fall, and how far it had refilled: intervals repeat their lows."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from livemon.series.bins import HISTORY_S, Seconds

_SMOOTH_S: Final = 5


@dataclass(frozen=True, slots=True)
class Low:
    """What the seconds before a fall held.

    Attributes:
        pct: the lowest mean of five seconds.
        refilled_pct: points between a lower mean and the highest one after it.
    """

    pct: float
    refilled_pct: float


def low_before(seconds: Seconds, age_s: int, longest_s: int) -> Low | None:
    """Look at up to `longest_s` before the last `age_s`; None if there are hardly any."""
    before_s = min(seconds.length - age_s, longest_s)
    if before_s < _SMOOTH_S + 1:
        return None
    end = HISTORY_S - age_s
    sums = np.cumsum(seconds.window()[end - before_s : end])
    smooth = (sums[_SMOOTH_S:] - sums[:-_SMOOTH_S]) / _SMOOTH_S
    refilled = float((smooth - np.minimum.accumulate(smooth)).max())
    return Low(float(smooth.min()), refilled)
