"""One muscle site's estimates, brought up to date once a second.

Knows the signal only: nothing of heart rate, nothing of warnings.
"""

from typing import Final

from livemon.estimate.bank import MUSCLE, Readings, read
from livemon.estimate.low import OwnLow
from livemon.estimate.noise import Noise
from livemon.estimate.slip import SlipFilter
from livemon.estimate.slope import trend
from livemon.estimate.trend import Trend
from livemon.series.bins import HISTORY_S, Seconds

_LEVEL_S: Final = 5
_HELD_S: Final = 10


class Muscle:
    """Level, slopes, own low and slips of one site.

    Args:
        earlier_low_pct: own low from an earlier session at this placement, if known.
    """

    __slots__ = ("_errors", "_slip", "low", "noise", "readings", "seconds")

    def __init__(self, earlier_low_pct: float | None) -> None:
        self.seconds = Seconds()
        self.noise = Noise(typical_sd=1.0, floor_sd=0.15, wander_sd=0.35, wander_s=20.0)
        self._errors = MUSCLE.errors(self.noise.semivariogram)
        self._slip = SlipFilter()
        self.low = OwnLow(earlier_low_pct)
        self.readings: Readings | None = None

    @property
    def suspicious(self) -> bool:
        """Does the signal do what no muscle does?"""
        return self._slip.suspicious

    def restart(self) -> None:
        """Begin afresh, but keep what is known of the sensor's noise and of the own low."""
        self.seconds.begin_afresh()
        self._slip.restart()
        self.readings = None

    def update(self, value: float | None, *, warned: bool) -> float | None:
        """Take the second's value; return the step in points if the sensor slipped."""
        seconds = self.seconds
        step_pct = None
        if value is not None and seconds.length:
            outcome = self._slip.judge(value, seconds.newest, seconds.empty_s + 1, self.noise.sd)
            if outcome.step_pct is not None:
                step_pct = outcome.step_pct
                seconds.shift(step_pct)
                self.low.shift(step_pct)
            if not outcome.use:
                value = None
        if value is None:
            seconds.skip()
            if not seconds.length:
                self.readings = None
            return None
        seconds.append(value)
        window = seconds.window()
        if self.noise.update(window, seconds.length):
            self._errors = MUSCLE.errors(self.noise.semivariogram)
        self.readings = read(window, self._errors)
        if seconds.length >= _HELD_S:
            self.low.update(float(window[-_HELD_S:].sum()) / _HELD_S, falling=warned)
        return step_pct

    def level_pct(self) -> float | None:
        """Return the mean of the last five seconds, or None if there are fewer."""
        if self.seconds.length < _LEVEL_S:
            return None
        return float(self.seconds.window()[HISTORY_S - _LEVEL_S :].sum()) / _LEVEL_S

    def trend(self) -> Trend | None:
        """Return the trend now, or None if the history is too short."""
        if self.readings is None:
            return None
        lines = MUSCLE.support_s[len(self.readings.bends) :]
        known = sum(support <= self.seconds.length for support in lines)
        return trend(self.readings.lines[:known], self.readings.line_errors[:known])
