"""What the warning is about, defined on the noise-free truth.

A fall begins when the true SmO2 starts a decline steeper than 1.5 %/min that lasts at least 20 s,
beyond the onset kinetics of a load change, during work, while the true heart rate changes by less
than 3 bpm/min. A warning that comes on outside a fall is false, save in the border cases below,
which count neither way. If the muscle falls already when heart rate becomes steady, the fall
begins then: that is where delays run from.

A decline goes on through a pause shorter than 20 s in which SmO2 does not rise: a staircase is one
decline. This file knows no sensor and no warning.
"""

from dataclasses import dataclass
from enum import IntEnum
from typing import Final

import numpy as np
from numpy.typing import NDArray

from livemon.synthetic.body import Bools, Floats, SiteTruth, Truth

FALL_PCT_PER_MIN: Final = 1.5
SLOW_PCT_PER_MIN: Final = 0.5
SHORTEST_S: Final = 20.0
STEADY_BPM_PER_MIN: Final = 3.0
#: Heart rate on its last steps towards steady: the tail of its own onset.
NEARLY_STEADY_BPM_PER_MIN: Final = 4.5
#: Three time constants: what is left of the fast response after that is its tail.
TAIL_SHARE: Final = 0.05
#: "The seconds just after a fall ends".
AFTER_S: Final = 15.0


class Moment(IntEnum):
    """What a warning that comes on at a moment counts as."""

    FALSE = 0
    FALL = 1  #: right
    SLOW = 2  #: border: a decline of 0.5-1.5 %/min
    TAIL = 3  #: border: the last of an onset, of the muscle or of heart rate
    AFTER = 4  #: border: a fall has just ended
    UNSEEN = 5  #: border: the muscle falls, and heart rate cannot be observed


class Ending(IntEnum):
    """How a fall ends."""

    FLATTENS = 0
    WORK_STOPS = 1
    HEART_RATE = 2  #: it moves, or it cannot be observed any more
    TRACE_ENDS = 3


@dataclass(frozen=True, slots=True)
class Fall:
    """One fall at one site."""

    start_s: float
    end_s: float
    muscle_from_s: float  #: when the muscle began to fall; earlier than `start_s` at most
    rate_pct_per_min: float  #: mean over the fall, positive
    ending: Ending
    settles: bool  #: heart rate became steady while the muscle was falling
    regained: bool  #: heart rate could be observed again while the muscle was falling

    @property
    def seconds(self) -> float:
        """How long it lasted."""
        return self.end_s - self.start_s


@dataclass(frozen=True, slots=True)
class Verdicts:
    """The falls at one site, and what a warning would count as at each moment."""

    falls: tuple[Fall, ...]
    moments: NDArray[np.int8]


def verdicts(true: Truth, site: SiteTruth, observable: Bools) -> Verdicts:
    """Judge every moment; `observable` says when a sensor can know heart rate."""
    step_s = float(true.t_s[1] - true.t_s[0])
    falling = _decline(true, site, step_s)
    moving = np.abs(true.heart_rate_bpm_per_min)
    steady = (moving < STEADY_BPM_PER_MIN) & observable
    falls = tuple(
        _fall(true, site, observable, falling, begin, end) for begin, end in _runs(falling & steady)
    )
    onset = site.slope_pct_per_min - site.drift_pct_per_min
    moments = np.full(len(true.t_s), Moment.FALSE, dtype=np.int8)
    sinking = site.slope_pct_per_min < -SLOW_PCT_PER_MIN
    drifting = (site.drift_pct_per_min < -SLOW_PCT_PER_MIN) & ~falling
    slow = drifting & (site.drift_pct_per_min >= -FALL_PCT_PER_MIN)
    moments[sinking & slow] = Moment.SLOW
    tail = (onset < -SLOW_PCT_PER_MIN) & (site.onset_left < TAIL_SHARE)
    moments[sinking & tail] = Moment.TAIL
    moments[falling & (moving < NEARLY_STEADY_BPM_PER_MIN)] = Moment.TAIL
    moments[falling & ~observable] = Moment.UNSEEN
    for fall in falls:
        after = (true.t_s >= fall.end_s) & (true.t_s < fall.end_s + AFTER_S)
        moments[after] = Moment.AFTER
    moments[falling & steady] = Moment.FALL
    return Verdicts(falls, moments)


def _decline(true: Truth, site: SiteTruth, step_s: float) -> Bools:
    """Say where the muscle declines as a fall does, whatever heart rate does."""
    steepest = np.maximum(site.drift_pct_per_min, site.slope_pct_per_min)
    declining = (steepest < -FALL_PCT_PER_MIN) & true.working
    for begin, end in _runs(~declining):
        inner = begin > 0 and end < len(declining)
        rises = np.any(site.slope_pct_per_min[begin:end] > SLOW_PCT_PER_MIN)
        if inner and (end - begin) * step_s < SHORTEST_S and not rises:
            declining[begin:end] = np.all(true.working[begin:end])
    for begin, end in _runs(declining):
        if (end - begin) * step_s < SHORTEST_S - step_s / 2:
            declining[begin:end] = False
    return declining


def _fall(
    true: Truth, site: SiteTruth, observable: Bools, falling: Bools, begin: int, end: int
) -> Fall:
    muscle_from = begin
    while muscle_from > 0 and falling[muscle_from - 1]:
        muscle_from -= 1
    last = min(end, len(true.t_s) - 1)
    step_s = float(true.t_s[1] - true.t_s[0])
    return Fall(
        start_s=float(true.t_s[begin]),
        end_s=float(true.t_s[begin] + (end - begin) * step_s),
        muscle_from_s=float(true.t_s[muscle_from]),
        rate_pct_per_min=-float(np.mean(site.drift_pct_per_min[begin:end])),
        ending=_ending(true, falling, end, last),
        settles=muscle_from < begin and bool(observable[begin - 1]),
        regained=muscle_from < begin and not observable[begin - 1],
    )


def _ending(true: Truth, falling: Bools, end: int, last: int) -> Ending:
    if end >= len(true.t_s):
        return Ending.TRACE_ENDS
    if not true.working[last]:
        return Ending.WORK_STOPS
    return Ending.HEART_RATE if falling[last] else Ending.FLATTENS


def _runs(flags: Bools) -> list[tuple[int, int]]:
    """Return (first, one past last) of every run of True."""
    edges = np.flatnonzero(np.diff(flags.astype(np.int8), prepend=0, append=0))
    return list(zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True))


def unobservable(t_s: Floats, spans_s: tuple[tuple[float, float], ...], settle_s: float) -> Bools:
    """Say where heart rate cannot be known: in `spans_s`, and `settle_s` after each."""
    lost = np.zeros(len(t_s), dtype=bool)
    for begin_s, end_s in spans_s:
        lost |= (t_s >= begin_s) & (t_s < end_s + settle_s)
    return lost
