"""One muscle site from samples to its part of the snapshot."""

from dataclasses import replace
from typing import Final

from livemon.decode.samples import OxygenationSample
from livemon.estimate.balance import Balance
from livemon.estimate.bank import LINES_S
from livemon.estimate.falling import Fall
from livemon.estimate.freshness import Freshness
from livemon.estimate.heart import HeartSteadiness
from livemon.estimate.muscle import Muscle
from livemon.estimate.trend import Forecast, Trend
from livemon.monitor.changes import Change, Slipped, WarningOff, WarningOn, WarningRaised
from livemon.monitor.snapshot import SiteState, Trust, WarningState
from livemon.series.admit import OxygenationGate, Refusal
from livemon.series.bins import Second
from livemon.series.ring import Ring, Trail
from livemon.warn.judge import judge
from livemon.warn.machine import TOLD, Delays, State, Watch, step
from livemon.warn.priority import Priority
from livemon.warn.settings import WarnSettings

_FOLLOW: Final = 0.03  #: a memory of 33 s: the end of a fall shows before the rate has followed
_FOLLOW_DOWN_TO: Final = 0.7  #: part of the rate it was told with; flat is not a fall
_FOLLOWED: Final = LINES_S.index(26)
_WHOLE_FROM: Final = 20  #: whole values in a row that show a sensor which rounds to 1 %
_TRAIL_S: Final = 3600
_TRAIL_SPARE_S: Final = 60


class Site:
    """Everything about one site.

    Args:
        name: the site's name, as in its samples.
        settings: thresholds of the warning.
        earlier_low_pct: own low from an earlier session at this placement, if known.
    """

    __slots__ = (
        "_contact",
        "_delays",
        "_fall",
        "_fell_second",
        "_freshness",
        "_gate",
        "_last_pct",
        "_muscle",
        "_ring",
        "_second",
        "_settings",
        "_thb",
        "_told_rate",
        "_warning",
        "_watch",
        "_whole",
        "baseline_pct",
        "name",
    )  # fmt: skip

    def __init__(self, name: str, settings: WarnSettings, earlier_low_pct: float | None) -> None:
        self.name = name
        self.baseline_pct: float | None = None
        self._settings = settings
        self._delays = Delays(settings.on_delay_s, settings.off_delay_s, settings.patience_s)
        self._gate = OxygenationGate()
        self._second = Second()
        self._muscle = Muscle(earlier_low_pct)
        self._freshness = Freshness()
        self._watch = Watch(State.BLIND, 0, 0)
        self._fall: Fall | None = None
        self._fell_second = 0
        self._told_rate = 0.0
        self._warning: WarningState | None = None
        self._last_pct: float | None = None
        self._thb: float | None = None
        self._contact: bool | None = None
        self._whole = 0  #: whole values in a row since the start; -1 after one that was not
        self._ring = Ring(_TRAIL_S + _TRAIL_SPARE_S)

    def feed(self, t_us: int, sample: OxygenationSample) -> Refusal | None:
        """Take one sample; return why it is not used, or None."""
        refusal = self._gate.refuse(t_us, sample)
        if refusal is not None:
            if refusal is Refusal.NO_CONTACT or refusal is Refusal.MISSING:
                self._contact = False
            return refusal
        self._contact = sample.contact
        pct = sample.smo2_pct
        assert pct is not None
        self._second.add(pct)
        if self._whole >= 0:
            self._whole = self._whole + 1 if pct == int(pct) else -1
            if self._whole == _WHOLE_FROM:
                self._muscle.noise.rounded_to(1.0)
        self._last_pct = pct
        self._thb = sample.thb
        self._freshness.seen(t_us)
        return None

    def restart(self, second: int, t_s: float) -> tuple[Change, ...]:
        """Nobody was watching: begin afresh; end the warning that is on."""
        changes = self._off(t_s, "nobody was watching")
        self._second.close()
        self._gate.restart()
        self._muscle.restart()
        self._freshness.restart()
        self._watch = Watch(State.BLIND, second, second)
        return changes

    def end_second(
        self, second: int, t_ns: int, t_s: float, heart: HeartSteadiness
    ) -> tuple[Change, ...]:
        """Bring everything up to date at the end of a second."""
        value = self._second.close()
        muscle = self._muscle
        slip_pct = muscle.update(value, warned=self._fall is not None)
        if value is not None and not muscle.suspicious:
            self._ring.append(t_ns, value)
        elif muscle.seconds.empty_s == 4:
            self._ring.append(t_ns, float("nan"))
        changes: list[Change] = []
        if slip_pct is not None:
            changes.append(Slipped(self.name, t_s, slip_pct))
        settings = self._settings
        if muscle.readings is not None and muscle.seconds.empty_s:
            return tuple(changes)  # nothing new: what is on stays on, and nothing comes on
        self._follow()
        verdict = judge(muscle, heart, settings, self._fall, self._told_age_s(second))
        before = self._watch
        self._watch = step(before, verdict.seen, second, self._delays)
        if self._watch.state is State.WARNING and before.state not in TOLD:
            fall = verdict.fall
            assert fall is not None
            self._fall = fall
            self._fell_second = second - fall.age_s
            self._told_rate = fall.rate_pct_per_min
            bpm = heart.bpm if verdict.heart_known else None
            priority = self._priority(fall.rate_pct_per_min, bpm)
            age_s = float(fall.age_s)
            self._warning = WarningState(priority, t_s, fall.rate_pct_per_min, age_s, bpm)
            changes.append(WarningOn(self.name, t_s, priority, fall.rate_pct_per_min, age_s, bpm))
        elif self._fall is not None and self._watch.state not in TOLD:
            changes.extend(self._off(t_s, verdict.reason))
            self._muscle.seconds.begin_afresh(8)
        elif self._warning is not None:
            changes.extend(self._raise(second, t_s))
        return tuple(changes)

    def _follow(self) -> None:
        """Let the told fall's rate follow what is seen while it goes on."""
        fall, readings = self._fall, self._muscle.readings
        if fall is None or readings is None or self._watch.state is not State.WARNING:
            return
        rate = fall.rate_pct_per_min
        rate += _FOLLOW * (-readings.lines[_FOLLOWED] - rate)
        rate = max(rate, _FOLLOW_DOWN_TO * self._told_rate)
        self._fall = replace(fall, rate_pct_per_min=rate)

    def _told_age_s(self, second: int) -> int:
        return second - self._fell_second if self._fall is not None else 0

    def _off(self, t_s: float, reason: str) -> tuple[Change, ...]:
        if self._fall is None:
            return ()
        self._fall = self._warning = None
        return (WarningOff(self.name, t_s, reason),)

    def _raise(self, second: int, t_s: float) -> tuple[Change, ...]:
        warning = self._warning
        assert warning is not None
        trend = self._muscle.trend()
        rate = warning.fall_rate_pct_per_min if trend is None else max(-trend.pct_per_min, 0.0)
        highest = max(
            (warning.priority, self._priority(rate, warning.bpm)), key=list(Priority).index
        )
        self._warning = WarningState(
            highest, warning.on_t_s, rate, float(self._told_age_s(second)), warning.bpm
        )
        if highest is warning.priority:
            return ()
        return (WarningRaised(self.name, t_s, highest),)

    def _priority(self, rate_pct_per_min: float, bpm: float | None) -> Priority:
        if bpm is None:
            return Priority.CAUTION
        if rate_pct_per_min >= self._settings.drain_pct_per_min:
            return Priority.DRAIN
        room = self._room_pct()
        if room is not None and self._muscle.low.by_fall and room < self._settings.drain_room_pct:
            return Priority.DRAIN
        return Priority.CAUTION

    def _room_pct(self) -> float | None:
        low, level = self._muscle.low.pct, self._muscle.level_pct()
        if low is None or level is None or level < low - 1.0:
            return None
        return max(level - low, 0.0)

    def state(self, t_us: int) -> SiteState:
        """Return this site's part of the snapshot."""
        muscle = self._muscle
        trust = self._trust(t_us)
        trend = muscle.trend() if trust is Trust.GOOD else None
        room = self._room_pct()
        return SiteState(
            site=self.name,
            smo2_pct=self._last_pct,
            thb=self._thb,
            age_s=self._freshness.age_s(t_us),
            trust=trust,
            trend=trend,
            balance=self._balance(trend, room),
            baseline_pct=self.baseline_pct,
            own_low_pct=muscle.low.pct,
            room_pct=room,
            forecast=_forecast(trend, room) if muscle.low.by_fall else None,
            warning=self._warning,
            trail=Trail(self._ring, self._ring.count, _TRAIL_S),
        )

    def _trust(self, t_us: int) -> Trust:
        if self._contact is False:
            return Trust.NO_CONTACT
        if self._last_pct is None:
            return Trust.ABSENT
        if self._freshness.stale(t_us):
            return Trust.STALE
        if self._muscle.suspicious:
            return Trust.SUSPECT
        return Trust.GOOD

    def _balance(self, trend: Trend | None, room: float | None) -> Balance:
        if trend is None or trend.high_pct_per_min - trend.low_pct_per_min > 12.0:
            return Balance.UNSURE
        if self._fall is not None or trend.high_pct_per_min < -1.0:
            return Balance.DEMAND_AHEAD
        if trend.low_pct_per_min > 1.0:
            return Balance.SUPPLY_AHEAD
        if room is not None and self._muscle.low.by_fall and room < 3.0:
            return Balance.AT_LOW
        return Balance.IN_BALANCE


def _forecast(trend: Trend | None, room_pct: float | None) -> Forecast | None:
    if trend is None or room_pct is None or room_pct < 2.0 or trend.high_pct_per_min > -1.0:
        return None
    soonest_s = room_pct / -trend.low_pct_per_min * 60.0
    latest_s = room_pct / -trend.high_pct_per_min * 60.0
    return Forecast(soonest_s, latest_s)
