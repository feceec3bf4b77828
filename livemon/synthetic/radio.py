"""How readings travel: late, in bunches, twice, or not at all.

A reading is stamped when it arrives. Bluetooth moves data at connection events only, so readings
queue and come together. A reading that a relay stamped may also turn up after later ones.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from livemon.decode.samples import HeartRateSample, OxygenationSample
from livemon.synthetic.noise import Floats, within

Sample = HeartRateSample | OxygenationSample
#: (when it is handed over, the sample), in that order.
Stream = list[tuple[float, Sample]]

_LATEST_S: Final = 3.0
_DOUBLE_S: Final = 0.02


@dataclass(frozen=True, slots=True)
class Radio:
    """One link.

    Attributes:
        jitter_s: standard deviation of the arrival time.
        batch_s: readings wait for the next multiple of this; 0 sends each one at once.
        gaps: spans (from, to) without any arrival.
        flushes: what was measured in a gap arrives at its end, all at once; or else it is lost.
        lost_share: share of readings that never arrive.
        twice_share: share that arrive twice.
        late_share: share handed over up to three seconds late, with the stamp of its own time.
    """

    jitter_s: float = 0.02
    batch_s: float = 0.0
    gaps: tuple[tuple[float, float], ...] = ()
    flushes: bool = False
    lost_share: float = 0.0
    twice_share: float = 0.0
    late_share: float = 0.0


def arrivals(rng: Generator, t_s: Floats, radio: Radio) -> tuple[NDArray[np.intp], Floats, Floats]:
    """Return which readings come, their stamps, and when each is handed over, in that order."""
    stamp = t_s + np.abs(rng.normal(0, radio.jitter_s, len(t_s)))
    if radio.batch_s > 0:
        stamp = np.ceil(stamp / radio.batch_s) * radio.batch_s
    arrives = rng.random(len(t_s)) >= radio.lost_share
    if radio.flushes:
        for begin_s, end_s in radio.gaps:
            stamp[(stamp >= begin_s) & (stamp < end_s)] = end_s
    else:
        arrives &= ~within(stamp, radio.gaps)
    stamp = np.maximum.accumulate(stamp)  # a link keeps the order
    which = np.flatnonzero(arrives)
    late = rng.random(len(which)) < radio.late_share
    handed = stamp[which] + np.where(late, rng.uniform(0.2, _LATEST_S, len(which)), 0.0)
    double = which[rng.random(len(which)) < radio.twice_share]
    which = np.concatenate((which, double))
    stamps = stamp[which]
    stamps[len(which) - len(double) :] += _DOUBLE_S
    handed = np.concatenate((handed, stamps[len(which) - len(double) :]))
    order = np.argsort(handed, kind="stable")
    return which[order], stamps[order], handed[order]


def in_arrival_order(streams: Sequence[Stream]) -> list[Sample]:
    """Merge the streams of several sensors into what one machine gets to see."""
    both = [pair for stream in streams for pair in stream]
    both.sort(key=lambda pair: pair[0])
    return [sample for _, sample in both]
