"""Means over short stretches of equal length, so that every stretch counts the same.

Oximeters send at 0.5 to 10 Hz, some smoothed already; averaging over at least one pedalling or
stride cycle takes out the muscle's pump, and makes lag one mean the same thing for all of them.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from livemon.analyse.series import Floats, Series

BIN_S: Final = 5.0  #: a 5 s mean is common practice for SmO2, and covers a slow cadence


@dataclass(frozen=True, slots=True, eq=False)
class Bins:
    """Means of the stretches that had samples.

    Attributes:
        index: number of each stretch, from 0; a missing number had no samples.
        t_s: mean time of the samples in it.
        values: their mean.
    """

    index: NDArray[np.int64]
    t_s: Floats
    values: Floats

    def __len__(self) -> int:
        """How many stretches have samples."""
        return len(self.index)


def bin_means(series: Series, start_s: float, end_s: float, width_s: float = BIN_S) -> Bins:
    """Cut [start, end) into whole stretches of `width_s`, counted back from the end."""
    count = int((end_s - start_s) / width_s + 1e-9)
    start_s = end_s - count * width_s
    part = series.between(start_s, end_s)
    number = np.minimum(((part.t_s - start_s) / width_s).astype(np.int64), count - 1)
    samples = np.bincount(number, minlength=count)
    index = np.flatnonzero(samples)
    sums_t = np.bincount(number, weights=part.t_s - start_s, minlength=count)
    sums_v = np.bincount(number, weights=part.values, minlength=count)
    full = samples[index]
    return Bins(index, start_s + sums_t[index] / full, sums_v[index] / full)
