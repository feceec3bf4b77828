"""Heart rate from samples to its part of the snapshot."""

from typing import Final

from livemon.decode.samples import HeartRateSample
from livemon.estimate.freshness import Freshness
from livemon.estimate.heart import HeartSteadiness
from livemon.estimate.steadiness import Steadiness
from livemon.monitor.snapshot import HeartRateState, Trust
from livemon.series.admit import HeartRateGate, Refusal
from livemon.series.bins import Second
from livemon.series.ring import Ring, Trail

_TRAIL_S: Final = 3600
_TRAIL_SPARE_S: Final = 60


class Pulse:
    """Everything about one athlete's heart rate."""

    __slots__ = ("_contact", "_freshness", "_gate", "_last_bpm", "_ring", "_second", "steadiness")

    def __init__(self) -> None:
        self._gate = HeartRateGate()
        self._second = Second()
        self._freshness = Freshness()
        self._contact: bool | None = None
        self._last_bpm: float | None = None
        self._ring = Ring(_TRAIL_S + _TRAIL_SPARE_S)
        self.steadiness = HeartSteadiness()

    def feed(self, t_us: int, sample: HeartRateSample) -> Refusal | None:
        """Take one sample; return why it is not used, or None."""
        refusal = self._gate.refuse(t_us, sample)
        if refusal is Refusal.NO_CONTACT:
            self._contact = False
        if refusal is not None:
            return refusal
        self._contact = sample.contact
        bpm = sample.bpm
        assert bpm is not None
        self._second.add(bpm)
        self._last_bpm = bpm
        self._freshness.seen(t_us)
        return None

    def restart(self) -> None:
        """Nobody was watching: begin afresh."""
        self._second.close()
        self.steadiness.restart()

    def load_changed(self) -> None:
        """A person said that the load has just changed."""
        self.steadiness.load_changed()

    def end_second(self, t_ns: int, second: int) -> None:
        """Bring everything up to date at the end of a second."""
        bpm = self._second.close()
        self.steadiness.update(bpm)
        if bpm is not None:
            self._ring.append(t_ns, bpm)
        elif self.steadiness.silent_s == 4:
            self._ring.append(t_ns, float("nan"))

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
            trail=Trail(self._ring, self._ring.count, _TRAIL_S),
        )

    def _trust(self, t_us: int) -> Trust:
        if self._contact is False:
            return Trust.NO_CONTACT
        if self._last_bpm is None:
            return Trust.ABSENT
        if self._freshness.stale(t_us):
            return Trust.STALE
        return Trust.SUSPECT if self.steadiness.doubtful else Trust.GOOD
