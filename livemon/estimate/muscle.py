"""One muscle site's estimates, brought up to date once a second.

Knows the signal only: nothing of heart rate, nothing of warnings.
"""

from typing import Final

from livemon.estimate.bank import LINES_S, MUSCLE, Readings, read
from livemon.estimate.contrasts import Weights
from livemon.estimate.low import OwnLow
from livemon.estimate.noise import Noise
from livemon.estimate.slip import SlipFilter
from livemon.estimate.slope import trend
from livemon.estimate.trend import Trend
from livemon.series.bins import HISTORY_S, Seconds

_LEVEL_S: Final = 5
_HELD_S: Final = 10
_HELD_KEPT: Final = 30  #: five minutes: a bout and the recovery after it
#: The steepest falls at constant load that are promised are 30 %/min, or 3 points in 6 s.
_PLUNGE_S: Final = 6
_PLUNGE_PCT: Final = 3.6
_PLUNGE_SD: Final = 2.0
_BELOW_PCT: Final = 1.0  #: further below a low than noise takes a level
_TROUBLE_GAP_S: Final = 5  #: empty seconds from which a bridge is a guess
_HELD_NEW: Final = 3
_SETTLES_S: Final = 30  #: after a plunge an onset (time constant 8-25 s) is all but over
_LONG_AGO_S: Final = 100_000  #: no warning has ended yet


class Muscle:
    """Level, slopes, own low and slips of one site.

    Args:
        earlier_low_pct: own low from an earlier session at this placement, if known.
    """

    __slots__ = (
        "_contrasts",
        "_errors",
        "_held_pct",
        "_since_held_s",
        "_slip",
        "calm_s",
        "low",
        "noise",
        "persistence",
        "readings",
        "seconds",
        "since_told_s",
    )

    def __init__(self, earlier_low_pct: float | None) -> None:
        self.seconds = Seconds()
        self.since_told_s = _LONG_AGO_S  #: seconds since a warning ended
        self.calm_s = 0  #: seconds since a jump or a gap: what lies between is less sure
        self.noise = Noise(typical_sd=1.0, floor_sd=0.1, wander_sd=0.2, wander_s=20.0)
        self.persistence = 0  #: index in PERSISTENCES
        self._learn_noise()
        self._slip = SlipFilter()
        self.low = OwnLow(earlier_low_pct)
        self.readings: Readings | None = None
        self._since_held_s = 0
        self._held_pct: list[float] = []  #: ten-second means, oldest first

    @property
    def suspicious(self) -> bool:
        """Does the signal do what no muscle does?"""
        return self._slip.suspicious

    def restart(self) -> None:
        """Begin afresh, but keep what is known of the sensor's noise and of the own low."""
        self.seconds.begin_afresh()
        self._slip.restart()
        self.readings = None

    def take_back(self, empty_s: int) -> None:
        """The last `empty_s` seconds, told as empty so far, are about to be told again."""
        self.seconds.take_back(empty_s)
        self.calm_s = max(self.calm_s - empty_s, 0)
        self.since_told_s = max(self.since_told_s - empty_s, 0)

    def update(self, value: float | None, *, warned: bool) -> float | None:
        """Take the second's value; return the step in points if the sensor slipped."""
        seconds = self.seconds
        step_pct = None
        self.calm_s += 1
        self.since_told_s += 1
        if self._slip.suspicious or seconds.empty_s >= _TROUBLE_GAP_S:
            self.calm_s = 0
        if value is not None and seconds.length:
            outcome = self._slip.judge(value, seconds.newest, seconds.empty_s + 1, self.noise.sd)
            if outcome.step_pct is not None:
                step_pct = outcome.step_pct
                seconds.shift(step_pct)
                self.low.shift(step_pct)
                self._held_pct = [pct + step_pct for pct in self._held_pct]
            if not outcome.use:
                value = None
        if value is None:
            seconds.skip()
            if not seconds.length:
                self.readings = None
            return None
        seconds.append(value)
        window = seconds.window()
        if self._plunges(window):
            self.calm_s = 0
        if self.noise.update(window, self._quiet_s()):
            self._learn_noise()
        self.readings = read(self._contrasts, window, self._errors)
        if seconds.length >= _HELD_S:
            held_pct = float(window[-_HELD_S:].sum()) / _HELD_S
            self.low.update(held_pct, falling=warned)
            self._since_held_s += 1
            if self._since_held_s >= _HELD_S:
                self._since_held_s = 0
                self._held_pct.append(held_pct)
                del self._held_pct[:-_HELD_KEPT]
        return step_pct

    def _quiet_s(self) -> int:
        """Return how much of the history may be taken for noise: an onset would add to it.

        The first look takes what there is, or a session of nothing but intervals had none.
        """
        length = self.seconds.length
        return min(length, self.calm_s - _SETTLES_S) if self.noise.looks else length

    def _plunges(self, window: Weights) -> bool:
        """Did the level move faster than any fall: an onset, or a slip that the device smoothed?"""
        if self.seconds.length < _PLUNGE_S + 3:
            return False
        before = float(window[-_PLUNGE_S - 3 : -_PLUNGE_S].sum())
        moved = abs(float(window[-3:].sum()) - before) / 3.0
        return moved > _PLUNGE_PCT + _PLUNGE_SD * self.noise.sd

    def _learn_noise(self) -> None:
        self.persistence = self.noise.persistence
        self._contrasts = MUSCLE[self.persistence]
        self._errors = self._contrasts.errors(self.noise.semivariogram)

    @property
    def lowest_lately_pct(self) -> float:
        """The lowest ten-second mean of the last minutes, the newest ones left out."""
        return min(self._held_pct[:-_HELD_NEW], default=100.0)

    def begin_afresh(self, keep_s: int) -> None:
        """A warning ended: forget all but the last `keep_s` seconds; no fall is seen twice."""
        self.seconds.begin_afresh(keep_s)
        self.since_told_s = 0

    def room_pct(self) -> float | None:
        """Return the points down to the own low; None where that means nothing."""
        low, level = self.low.pct, self.level_pct()
        if low is None or level is None:
            return None
        if level < low - _BELOW_PCT and not self.low.by_fall:
            return None  # deeper than any bout so far, which was not known to be the end
        return max(level - low, 0.0)

    def level_pct(self) -> float | None:
        """Return the mean of the last five seconds, or None if there are fewer."""
        if self.seconds.length < _LEVEL_S:
            return None
        return float(self.seconds.window()[HISTORY_S - _LEVEL_S :].sum()) / _LEVEL_S

    def trend(self) -> Trend | None:
        """Return the trend now, or None if the history is too short."""
        if self.readings is None:
            return None
        known = sum(window_s <= self.seconds.length for window_s in LINES_S)
        return trend(self.readings.lines[:known], self.readings.line_errors[:known])
