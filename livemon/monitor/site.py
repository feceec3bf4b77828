"""One muscle site from samples to its part of the snapshot."""

from typing import Final

from livemon.decode.samples import OxygenationSample
from livemon.estimate.balance import Balance, balance
from livemon.estimate.forecast import forecast
from livemon.estimate.freshness import Freshness
from livemon.estimate.heart import HeartSteadiness
from livemon.estimate.muscle import Muscle
from livemon.estimate.steadiness import Steadiness
from livemon.estimate.trend import Trend
from livemon.monitor.changes import Change, Slipped
from livemon.monitor.drain import Drain
from livemon.monitor.information import Information
from livemon.monitor.snapshot import SiteState, Trust, WarningState
from livemon.series.admit import NOT_A_PACKET, OxygenationGate, Refusal
from livemon.series.drawn import Drawn
from livemon.series.recent import Recent
from livemon.series.spacing import OxygenationSpacing
from livemon.warn.settings import WarnSettings

_WHOLE_FROM: Final = 20  #: whole values in a row that show a sensor which rounds to 1 %
_NS_PER_S: Final = 1_000_000_000


class Site:
    """Everything about one site.

    Args:
        name: the site's name, as in its samples.
        settings: thresholds of the warning.
        earlier_low_pct: own low from an earlier session at this placement, if known.
    """

    __slots__ = ("_contact", "_drain", "_freshness", "_gate", "_information", "_last_pct", "_line",
                 "_muscle", "_quality_pct", "_recent", "_spacing", "_thb", "_trend", "_whole",
                 "baseline_pct", "name")  # fmt: skip

    def __init__(self, name: str, settings: WarnSettings, earlier_low_pct: float | None) -> None:
        self.name = name
        self.baseline_pct: float | None = None
        self._gate = OxygenationGate()
        self._spacing = OxygenationSpacing()
        self._recent = Recent()
        self._muscle = Muscle(earlier_low_pct)
        self._freshness = Freshness()
        self._drain = Drain(name, settings)
        self._information = Information()
        self._trend: Trend | None = None
        self._last_pct: float | None = None
        self._thb: float | None = None
        self._contact: bool | None = None
        self._quality_pct: float | None = None
        self._whole = 0  #: whole values in a row since the start; -1 after one that was not
        self._line = Drawn()

    def feed(self, t_us: int, sample: OxygenationSample) -> Refusal | None:
        """Take one sample; return why it is not used, or None."""
        refusal = self._gate.refuse(t_us, sample)
        if refusal in NOT_A_PACKET:
            return refusal
        self._quality_pct = sample.quality_pct
        pct = sample.smo2_pct if refusal is None else None
        self._recent.add(t_us, self._spacing.after_us(t_us, sample), pct)
        if pct is None:
            if refusal is Refusal.NO_CONTACT or refusal is Refusal.MISSING:
                self._contact = False
            return refusal
        self._contact = sample.contact
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
        self._recent.restart()
        self._gate.restart()
        self._muscle.restart()
        self._information.restart()
        self._trend = None
        return self._drain.restart(second, t_s)

    def taken_off(self, second: int, t_s: float) -> tuple[Change, ...]:
        """The sensor sits here no longer: end the warning that is on."""
        return self._drain.restart(second, t_s, "sensor taken off")

    def end_second(
        self, second: int, t_ns: int, t_s: float, heart: HeartSteadiness
    ) -> tuple[Change, ...]:
        """Bring everything up to date at the end of a second."""
        muscle = self._muscle
        values = self._recent.close(second - 1)
        late_s = len(values) - 1
        muscle.take_back(late_s)
        slips: tuple[Change, ...] = ()
        for value in values:
            slip_pct = muscle.update(value, warned=self._drain.warning is not None)
            self._draw(t_ns - late_s * _NS_PER_S, value)
            if slip_pct is not None:
                slips += (Slipped(self.name, t_s, slip_pct),)
            late_s -= 1
        if muscle.readings is not None and muscle.seconds.empty_s:
            return slips  # nothing new: what is on stays on, and nothing comes on
        self._trend = muscle.trend()
        changes = self._drain.update(second, t_s, muscle, heart)
        steady = heart.state is Steadiness.STEADY
        self._information.update(t_s, self._trend, heart.bpm if steady else None)
        return slips + changes

    def _draw(self, t_ns: int, value: float | None) -> None:
        if value is not None and not self._muscle.suspicious:
            self._line.add(t_ns, value)
        else:
            self._line.empty(t_ns, self._muscle.seconds.empty_s)

    def state(self, t_us: int) -> SiteState:
        """Return this site's part of the snapshot."""
        muscle, low = self._muscle, self._muscle.low
        trust = self._trust(t_us)
        trend = self._trend if trust is Trust.GOOD else None
        room = muscle.room_pct()
        near_low = room if low.by_fall else None
        information = self._information.shown if trend is not None else None
        warning = self._drain.warning or information
        return SiteState(
            site=self.name,
            smo2_pct=self._last_pct,
            thb=self._thb,
            age_s=self._freshness.age_s(t_us),
            trust=trust,
            trend=trend,
            balance=_word(trend, near_low, warning),
            baseline_pct=self.baseline_pct,
            own_low_pct=low.pct,
            room_pct=room,
            forecast=forecast(trend, near_low, muscle.noise.sd),
            warning=warning,
            trail=self._line.trail(),
            contact=self._contact,
            quality_pct=self._quality_pct,
        )

    def _trust(self, t_us: int) -> Trust:
        if self._contact is False:
            return Trust.NO_CONTACT
        if self._last_pct is None:
            return Trust.ABSENT
        if self._freshness.stale(t_us):
            return Trust.STALE
        return Trust.SUSPECT if self._muscle.suspicious else Trust.GOOD


def _word(trend: Trend | None, room_pct: float | None, warning: WarningState | None) -> Balance:
    """Return the balance; it and a warning must not contradict each other."""
    if trend is not None and warning is not None:
        return Balance.DEMAND_AHEAD
    return balance(trend, room_pct)
