"""What is let into a channel, and why the rest is not.

A radio repeats itself, delivers late and in bursts, and sensors send what no body does. Each sample
that is not used is counted under one reason, so that a person can see what a sensor is doing.
Nothing here knows about trends; it judges one sample by the one before it.
"""

from enum import Enum
from math import isfinite
from typing import Final

from livemon.decode.samples import HeartRateSample, OxygenationSample


class Refusal(Enum):
    """Why a sample was not used."""

    MISSING = "no value"  #: the sensor itself said that it does not know
    NO_CONTACT = "no contact"
    LATE = "late"  #: older than one that was already used
    REPEAT = "repeat"  #: the same packet once more
    IMPLAUSIBLE = "implausible"  #: not a number, or out of any body's range
    JUMP = "jump"  #: far from its neighbours on both sides: a spike


#: What tells nothing of the sensor's own time.
NOT_A_PACKET: Final = frozenset({Refusal.LATE, Refusal.REPEAT})

# A packet that the radio delivers twice follows within one connection event or so; 30 ms is the
# shortest interval in common use (from memory). The fastest sensor we expect sends each 100 ms.
_REPEAT_US: Final = 30_000

# Resting bradycardia of athletes and the fastest human hearts: common practice, no source.
_LOWEST_BPM: Final = 25.0
_HIGHEST_BPM: Final = 240.0

# Points of SmO2 that two neighbours may differ, and points per second on top of it. The fast phase
# at the onset of heavy work has a time constant of about 10 s (DeLorey 2003, J Appl Physiol 95:113,
# from memory): 30 points in 10 s is 3 points/s at its steepest.
_JUMP_PCT: Final = 15.0
_JUMP_PCT_PER_S: Final = 3.0
_AGREES_PCT: Final = 8.0  #: a second sample this near to a jump confirms it: a slip, no spike


class OxygenationGate:
    """Admission to one oximeter channel."""

    __slots__ = ("_last_pct", "_last_sequence", "_last_us", "_suspect_pct")

    def __init__(self) -> None:
        self._last_us: int | None = None
        self._last_pct: float | None = None
        self._last_sequence: int | None = None
        self._suspect_pct: float | None = None

    def restart(self) -> None:
        """Forget the neighbours' values, not their order in time."""
        self._last_pct = None
        self._suspect_pct = None

    def refuse(self, t_us: int, sample: OxygenationSample) -> Refusal | None:
        """Return why `sample` is not used, or None if it is."""
        last_us = self._last_us
        if last_us is not None:
            if t_us < last_us:
                return Refusal.LATE
            if sample.sequence is not None and sample.sequence == self._last_sequence:
                return Refusal.REPEAT
        pct = sample.smo2_pct
        if sample.contact is False:
            return Refusal.NO_CONTACT
        if pct is None:
            return Refusal.MISSING
        if not 0.0 <= pct <= 100.0:  # NaN fails this too
            return Refusal.IMPLAUSIBLE
        if last_us is None:
            self._take(t_us, pct, sample.sequence)
            return None
        since_us = t_us - last_us
        if since_us < _REPEAT_US and pct == self._last_pct and sample.sequence is None:
            return Refusal.REPEAT
        if self._last_pct is not None and abs(pct - self._last_pct) > (
            _JUMP_PCT + _JUMP_PCT_PER_S * since_us * 1e-6
        ):
            suspect_pct, self._suspect_pct = self._suspect_pct, pct
            if suspect_pct is None or abs(pct - suspect_pct) > _AGREES_PCT:
                return Refusal.JUMP
        self._take(t_us, pct, sample.sequence)
        return None

    def _take(self, t_us: int, pct: float, sequence: int | None) -> None:
        self._last_us = t_us
        self._last_pct = pct
        self._last_sequence = sequence
        self._suspect_pct = None


class HeartRateGate:
    """Admission of heart rate readings."""

    __slots__ = ("_last",)

    def __init__(self) -> None:
        self._last: tuple[int, HeartRateSample] | None = None  #: with its time in us

    def refuse(self, t_us: int, sample: HeartRateSample) -> Refusal | None:
        """Return why `sample` is not used, or None if it is."""
        if self._last is not None:
            last_us, last = self._last
            if t_us < last_us:
                return Refusal.LATE
            if t_us - last_us < _REPEAT_US and sample.bpm == last.bpm and sample.rr_s == last.rr_s:
                return Refusal.REPEAT
        bpm = sample.bpm
        if sample.contact is False:
            return Refusal.NO_CONTACT
        if bpm is None or bpm == 0:
            return Refusal.MISSING
        if not isfinite(bpm) or not _LOWEST_BPM <= bpm <= _HIGHEST_BPM:
            return Refusal.IMPLAUSIBLE
        self._last = t_us, sample
        return None
