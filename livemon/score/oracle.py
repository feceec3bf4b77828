"""The limit: how soon a fall can be seen by somebody who knows everything but its beginning.

The oracle knows the noise, the level before the fall and the very shape of the fall. For every
moment at which the fall might have begun it sums the log-likelihood ratio of "it began then"
against "nothing happened", and it raises its hand as soon as one sum passes a threshold. For a
sudden shift in white noise this is Page's CUSUM (Page 1954, Biometrika 41:100; Lorden 1971, Ann
Math Stat 42:1897); for a fall it is the same idea with a sloping mean. No warning that has to
learn these things from the data can be quicker at the same rate of false alarms, save by luck.
"""

from math import log
from typing import Final

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view

from livemon.score.event import Fall
from livemon.score.trace import Trace
from livemon.score.whitening import whitener
from livemon.synthetic.body import Floats
from livemon.synthetic.noise import smoothed

#: The rate of false alarms at which the oracle works: that which the warning may have.
FALSE_PER_HOUR: Final = 0.06
#: False alarms per hour are this times exp(-threshold), measured on noise alone over all slopes
#: and conditions of the scenario set (benchmarks/oracle_threshold.py).
ALARMS_AT_ZERO: Final = 300.0
_BEFORE_S: Final = 40.0
#: Readings further off than this many standard deviations plus one point are spikes, known as such.
_SPIKE_SDS: Final = 6.0


def threshold(false_per_hour: float) -> float:
    """Return the log-likelihood ratio at which the oracle raises its hand."""
    return log(ALARMS_AT_ZERO / false_per_hour)


def first_alarm(values: Floats, shape: Floats, limit: float, every: int = 1) -> int | None:
    """Return the first index at which a change of `shape` is certain; None where it never is.

    Args:
        values: readings minus what they would be without the change, in units of white noise.
        shape: what the change does to them from its beginning on, in the same units.
        limit: the threshold for the log-likelihood ratio.
        every: try every so-many-th reading as the beginning.
    """
    length = len(shape)
    padded = np.concatenate((values, np.zeros(length - 1)))
    windows = sliding_window_view(padded, length)[::every]
    ratios = np.cumsum(windows * shape, axis=1) - np.cumsum(shape**2) / 2
    over = ratios >= limit
    begins = np.flatnonzero(over.any(axis=1))
    alarms = begins * every + over[begins].argmax(axis=1)
    alarms = alarms[alarms < len(values)]
    return int(alarms.min()) if len(alarms) else None


def seen_after_s(trace: Trace, site: int, fall: Fall, false_per_hour: float) -> float | None:
    """Return how long after the fall began the oracle sees it; None where it does not.

    It never sees it before it counts as one: 0 at least.
    """
    true, oximeter, shown = trace.truth, trace.oximeters[site], trace.shown[site]
    muscle = true.sites[site]
    inside = (true.t_s >= fall.muscle_from_s) & (true.t_s < fall.end_s)
    step_s = true.t_s[1] - true.t_s[0]
    fallen = np.cumsum(np.where(inside, muscle.drift_pct_per_min, 0.0)) * step_s / 60

    window = (shown.t_s >= fall.muscle_from_s - _BEFORE_S) & (shown.t_s < fall.end_s)
    first = int(window.argmax())
    bare = np.interp(shown.t_s, true.t_s, muscle.smo2_pct - fallen)
    change = np.interp(shown.t_s, true.t_s, fallen)
    expected = smoothed(shown.t_s, bare, oximeter.smoothing_s)[window]
    change = smoothed(shown.t_s, change, oximeter.smoothing_s)
    off = _without_spikes(shown.smo2_pct[window] - expected, change[window], oximeter.white_sd)

    louder = max((times for _, _, times in oximeter.noisier), default=1.0)
    white = whitener(oximeter, louder)
    begins = int(np.searchsorted(shown.t_s, fall.muscle_from_s))
    shape = white(change[begins : first + len(off)])
    every = max(1, round(oximeter.rate_hz))
    alarm = first_alarm(white(off), shape, threshold(false_per_hour), every)
    if alarm is None:
        return None
    return max(0.0, float(shown.t_s[first + alarm]) - fall.start_s)


def _without_spikes(off: Floats, change: Floats, sd: float) -> Floats:
    """Replace single wild readings by the one before them."""
    wild = np.flatnonzero(np.abs(off - change) > 1 + _SPIKE_SDS * max(sd, 1.0))
    for i in wild.tolist():
        off[i] = off[i - 1] if i else 0.0
    return off
