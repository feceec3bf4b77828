"""Heart rate from samples to its part of the snapshot."""

from typing import Final

from livemon.decode.samples import HeartRateSample
from livemon.estimate.freshness import Freshness
from livemon.estimate.heart import HeartSteadiness
from livemon.estimate.steadiness import Steadiness
from livemon.monitor.snapshot import HeartRateState, Trust
from livemon.series.admit import NOT_A_PACKET, HeartRateGate, Refusal
from livemon.series.drawn import Drawn
from livemon.series.recent import Recent
from livemon.series.spacing import HeartRateSpacing

_NS_PER_S: Final = 1_000_000_000


class Pulse:
    """Everything about one athlete's heart rate."""

    __slots__ = ("_contact", "_freshness", "_gate", "_last_bpm", "_line", "_recent", "_spacing",
                 "steadiness")  # fmt: skip

    def __init__(self) -> None:
        self._gate = HeartRateGate()
        self._spacing = HeartRateSpacing()
        self._recent = Recent()
        self._freshness = Freshness()
        self._contact: bool | None = None
        self._last_bpm: float | None = None
        self._line = Drawn()
        self.steadiness = HeartSteadiness()

    def feed(self, t_us: int, sample: HeartRateSample) -> Refusal | None:
        """Take one sample; return why it is not used, or None."""
        refusal = self._gate.refuse(t_us, sample)
        if refusal is Refusal.NO_CONTACT:
            self._contact = False
        if refusal in NOT_A_PACKET:
            return refusal
        bpm = sample.bpm if refusal is None else None
        self._recent.add(t_us, self._spacing.after_us(t_us, sample), bpm)
        if bpm is None:
            return refusal
        self._contact = sample.contact
        self._last_bpm = bpm
        self._freshness.seen(t_us)
        return None

    def restart(self) -> None:
        """Nobody was watching: begin afresh."""
        self._recent.restart()
        self.steadiness.restart()

    def load_changed(self) -> None:
        """A person said that the load has just changed."""
        self.steadiness.load_changed()

    def end_second(self, t_ns: int, second: int) -> None:
        """Bring everything up to date at the end of a second."""
        values = self._recent.close(second - 1)
        late_s = len(values) - 1
        self.steadiness.take_back(late_s)
        for bpm in values:
            self.steadiness.update(bpm)
            at_ns = t_ns - late_s * _NS_PER_S
            if bpm is not None:
                self._line.add(at_ns, bpm)
            else:
                self._line.empty(at_ns, self.steadiness.silent_s)
            late_s -= 1

    def state(self, t_us: int) -> HeartRateState:
        """Return heart rate's part of the snapshot."""
        steadiness = self.steadiness
        steady = steadiness.state is Steadiness.STEADY
        return HeartRateState(
            bpm=self._last_bpm,
            age_s=self._freshness.age_s(t_us),
            trust=self._trust(t_us),
            contact=self._contact,
            steadiness=steadiness.state,
            steady_for_s=float(steadiness.steady_for_s) if steady else None,
            drift_bpm_per_min=steadiness.drift_bpm_per_min,
            trail=self._line.trail(),
        )

    def _trust(self, t_us: int) -> Trust:
        if self._contact is False:
            return Trust.NO_CONTACT
        if self._last_bpm is None:
            return Trust.ABSENT
        if self._freshness.stale(t_us):
            return Trust.STALE
        return Trust.SUSPECT if self.steadiness.doubtful else Trust.GOOD
