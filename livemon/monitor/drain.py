"""The drain warning of one site: from verdicts to what is told, and for how long.

One fall gives one warning, however it develops. This file knows when the table says that a
warning is on; what a fall is, it leaves to `livemon.warn.judge`.
"""

from dataclasses import replace
from typing import Final

from livemon.estimate.bank import LINES_S
from livemon.estimate.falling import Fall
from livemon.estimate.heart import HeartSteadiness
from livemon.estimate.muscle import Muscle
from livemon.monitor.changes import Change, WarningOff, WarningOn, WarningRaised
from livemon.monitor.snapshot import WarningState
from livemon.warn.judge import Conviction, Verdict, judge
from livemon.warn.machine import TOLD, Delays, State, Watch, step
from livemon.warn.priority import Priority
from livemon.warn.settings import WarnSettings

_FOLLOW: Final = 0.1  #: a memory of 10 s beside the line's own
_FOLLOW_DOWN_TO: Final = 0.4  #: part of the rate it was told with; flat is not a fall
_MILDEST_PCT_PER_MIN: Final = 1.0  #: the same for slow ones
_SHORTEST: Final = LINES_S.index(15)  #: index of the shortest line that is followed
#: What was told is the luckiest of many looks: in standard errors, by how much it is too steep.
_LUCK_SE: Final = 1.0
_AT_LEAST_OF_RATE: Final = 0.4
_SLOWEST_FALL_PCT_PER_MIN: Final = 1.5
_KEPT_S: Final = 8  #: history kept when a warning ends, so that no fall is seen twice
_ORDER: Final = tuple(Priority)


class Drain:
    """The warning of one site.

    Args:
        site: its name, for the changes.
        settings: thresholds.
    """

    __slots__ = ("_conviction", "_delays", "_fall", "_fell_second", "_settings", "_site",
                 "_told_rate", "_watch", "warning")  # fmt: skip

    def __init__(self, site: str, settings: WarnSettings) -> None:
        self._site = site
        self._settings = settings
        self._delays = Delays(settings.on_delay_s, settings.off_delay_s, settings.patience_s)
        self._watch = Watch(State.BLIND, 0, 0)
        self._conviction = Conviction()
        self._fall: Fall | None = None
        self._fell_second = 0
        self._told_rate = 0.0
        self.warning: WarningState | None = None  #: what is on, caution or drain

    def update(
        self, second: int, t_s: float, muscle: Muscle, heart: HeartSteadiness
    ) -> tuple[Change, ...]:
        """Judge the second that ended; return what changed."""
        told_age_s = second - self._fell_second
        self._follow(muscle, told_age_s)
        verdict = judge(muscle, heart, self._settings, self._fall, told_age_s, self._conviction)
        before = self._watch.state
        self._watch = step(self._watch, verdict.seen, second, self._delays)
        if self._watch.state is State.WARNING and before not in TOLD:
            return self._on(second, t_s, verdict, muscle, heart)
        if self._fall is not None and self._watch.state not in TOLD:
            muscle.begin_afresh(_KEPT_S)
            return self._off(t_s, verdict.reason)
        if self.warning is not None:
            return self._go_on(self.warning, t_s, told_age_s, muscle)
        return ()

    def restart(
        self, second: int, t_s: float, reason: str = "nobody was watching"
    ) -> tuple[Change, ...]:
        """End the warning that is on, and begin afresh."""
        self._watch = Watch(State.BLIND, second, second)
        return self._off(t_s, reason)

    def _on(
        self, second: int, t_s: float, verdict: Verdict, muscle: Muscle, heart: HeartSteadiness
    ) -> tuple[Change, ...]:
        fall = verdict.fall
        assert fall is not None  # FALLING comes with a fall
        self._conviction.forget()  # from now on it is about the end
        self._fall = replace(fall, rate_pct_per_min=_sober(fall))
        self._fell_second = second - fall.age_s
        self._told_rate = fall.rate_pct_per_min
        rate = self._fall.rate_pct_per_min
        bpm = heart.bpm if verdict.heart_known else None
        priority = self._priority(rate, bpm, muscle)
        self.warning = WarningState(priority, t_s, rate, float(fall.age_s), bpm)
        return (WarningOn(self._site, t_s, priority, rate, float(fall.age_s), bpm),)

    def _off(self, t_s: float, reason: str) -> tuple[Change, ...]:
        self._conviction.forget()
        if self._fall is None:
            return ()
        self._fall = self.warning = None
        return (WarningOff(self._site, t_s, reason),)

    def _go_on(
        self, warning: WarningState, t_s: float, age_s: int, muscle: Muscle
    ) -> tuple[Change, ...]:
        assert self._fall is not None  # as long as there is a warning
        rate = self._fall.rate_pct_per_min
        now = self._priority(rate, warning.bpm, muscle)
        highest = max(warning.priority, now, key=_ORDER.index)
        self.warning = WarningState(highest, warning.on_t_s, rate, float(age_s), warning.bpm)
        return () if highest is warning.priority else (WarningRaised(self._site, t_s, highest),)

    def _follow(self, muscle: Muscle, age_s: int) -> None:
        """Let the told fall's rate follow the longest line that lies within it, as it goes on."""
        fall, readings = self._fall, muscle.readings
        if fall is None or readings is None or self._watch.state is not State.WARNING:
            return
        known = [i for i, s in enumerate(LINES_S) if s <= min(age_s, muscle.seconds.length)]
        if not known or known[-1] < _SHORTEST:
            return
        rate = fall.rate_pct_per_min
        rate += _FOLLOW * (-readings.lines[known[-1]] - rate)
        least = max(_FOLLOW_DOWN_TO * self._told_rate, _MILDEST_PCT_PER_MIN)
        self._fall = replace(fall, rate_pct_per_min=max(rate, least))

    def _priority(self, rate_pct_per_min: float, bpm: float | None, muscle: Muscle) -> Priority:
        if bpm is None:
            return Priority.CAUTION
        if rate_pct_per_min >= self._settings.drain_pct_per_min:
            return Priority.DRAIN
        room = muscle.room_pct()
        if room is not None and room < self._settings.drain_room_pct:
            return Priority.DRAIN
        return Priority.CAUTION


def _sober(fall: Fall) -> float:
    rate = fall.rate_pct_per_min
    sober = rate - _LUCK_SE * fall.error_pct_per_min
    return max(sober, _AT_LEAST_OF_RATE * rate, min(rate, _SLOWEST_FALL_PCT_PER_MIN))
