"""What surrounded a false warning: the first thing to ask when one wants fewer of them.

Judged on the noise-free truth, the most telling circumstance first. This file knows no warning.
"""

from enum import Enum
from typing import Final

from livemon.score.trace import Trace

_AFTER_FALL_S: Final = 90.0
_LOAD_S: Final = 60.0
_DRIFTS_PCT_PER_MIN: Final = -0.1
_ONSET_LEFT: Final = 0.05
_MOVING_BPM_PER_MIN: Final = 3.0


class Cause(Enum):
    """The circumstance."""

    REST = "rest, pause, recovery"
    AFTER_FALL = "90 s after a fall"
    SETTLING = "falling, heart rate not steady yet"
    LOAD = "first minute of a load"
    DRIFT = "drift milder than 0.5 %/min"
    LEVEL = "level work"


def cause(trace: Trace, site: int, t_s: float) -> Cause:
    """Return what surrounded a false warning at `t_s`."""
    at = trace.index(t_s)
    true, muscle = trace.truth, trace.truth.sites[site]
    if not true.working[at]:
        return Cause.REST
    if any(f.end_s <= t_s < f.end_s + _AFTER_FALL_S for f in trace.verdicts[site].falls):
        return Cause.AFTER_FALL
    moves = abs(float(true.heart_rate_bpm_per_min[at])) >= _MOVING_BPM_PER_MIN
    drifts = float(muscle.drift_pct_per_min[at])
    if moves and drifts < _DRIFTS_PCT_PER_MIN and muscle.onset_left[at] < _ONSET_LEFT:
        return Cause.SETTLING
    if t_s - max(s for s in true.phase_starts_s if s <= t_s) < _LOAD_S:
        return Cause.LOAD
    return Cause.DRIFT if drifts < _DRIFTS_PCT_PER_MIN else Cause.LEVEL
