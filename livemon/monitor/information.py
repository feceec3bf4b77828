"""The lowest priority: a slow fall that is certain. Shown in the snapshot, never announced.

A slow fall can be the slow component of heavy work and level off by itself; whoever looks may want
to know of it, nobody has to be called for it.
"""

from typing import Final

from livemon.estimate.trend import Trend
from livemon.monitor.snapshot import WarningState
from livemon.warn.priority import Priority

#: The whole interval must lie below this. The interval itself allows 0.5 %/min for wander; what it
#: takes to be told, 1 %/min beyond doubt, must lie above what it takes to be shown.
_CERTAIN_PCT_PER_MIN: Final = -0.2
_ON_S: Final = 10  #: seconds that it must hold: an interval of 90 % errs now and then
_OFF_S: Final = 5


class Information:
    """A certain, slow fall, as long as there is one."""

    __slots__ = ("_held_s", "_missed_s", "shown")

    def __init__(self) -> None:
        self._held_s = 0
        self._missed_s = 0
        self.shown: WarningState | None = None

    def restart(self) -> None:
        """Begin afresh."""
        self._held_s = self._missed_s = 0
        self.shown = None

    def update(self, t_s: float, trend: Trend | None, bpm: float | None) -> None:
        """Take the trend of the second that ended, and the heart rate if it holds steady."""
        if trend is None or bpm is None or trend.high_pct_per_min > _CERTAIN_PCT_PER_MIN:
            self._missed_s += 1
            if self._missed_s >= _OFF_S:
                self.restart()
            return
        self._held_s += 1
        self._missed_s = 0
        if self._held_s < _ON_S:
            return
        since_s = t_s if self.shown is None else self.shown.on_t_s
        self.shown = WarningState(
            Priority.INFORMATION, since_s, -trend.pct_per_min, float(self._held_s), bpm
        )
