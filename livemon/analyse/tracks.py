"""Samples let in and lined up: a heart, a muscle site, or the effort, over a whole recording.

Kept as plain arrays: three hours of a class are millions of samples, which as objects would take
four times the memory.
"""

from array import array

from livemon.analyse.series import Series
from livemon.decode.samples import HeartRateSample, IntensitySample, OxygenationSample
from livemon.series.admit import HeartRateGate, OxygenationGate
from livemon.series.effort import Effort, EffortGate

_US_PER_S = 1e6


class HeartTrack:
    """One athlete's heart rate."""

    __slots__ = ("_bpm", "_gate", "_t_s")

    def __init__(self) -> None:
        self._gate = HeartRateGate()
        self._t_s = array("d")
        self._bpm = array("d")

    def take(self, sample: HeartRateSample) -> None:
        """Keep the sample if it would have been used live."""
        if self._gate.refuse(round(sample.t_s * _US_PER_S), sample) is None:
            assert sample.bpm is not None
            self._t_s.append(sample.t_s)
            self._bpm.append(sample.bpm)

    def series(self) -> Series:
        """Return what was kept."""
        return Series.of(self._t_s, self._bpm)


class MuscleTrack:
    """SmO2 and tHb of one site."""

    __slots__ = ("_gate", "_pct", "_t_s", "_thb", "_thb_t_s")

    def __init__(self) -> None:
        self._gate = OxygenationGate()
        self._t_s = array("d")
        self._pct = array("d")
        self._thb_t_s = array("d")
        self._thb = array("d")

    def take(self, sample: OxygenationSample) -> None:
        """Keep the sample if it would have been used live."""
        if self._gate.refuse(round(sample.t_s * _US_PER_S), sample) is not None:
            return
        assert sample.smo2_pct is not None
        self._t_s.append(sample.t_s)
        self._pct.append(sample.smo2_pct)
        if sample.thb is not None:
            self._thb_t_s.append(sample.t_s)
            self._thb.append(sample.thb)

    def restart(self) -> None:
        """Nobody was watching for a while: the next value needn't be near the last."""
        self._gate.restart()

    def smo2(self) -> Series:
        """Return SmO2, %."""
        return Series.of(self._t_s, self._pct)

    def thb(self) -> Series:
        """Return total haemoglobin in the sensor's own unit; empty where it gives none."""
        return Series.of(self._thb_t_s, self._thb)


class EffortTrack:
    """Power and speed of one athlete's work, from whatever measures them."""

    __slots__ = ("_gate", "_kept")

    def __init__(self) -> None:
        self._gate = EffortGate()
        self._kept: dict[Effort, list[tuple[float, float]]] = {}

    def take(self, sample: IntensitySample) -> None:
        """Keep what would have been used live."""
        for effort, value in self._gate.admitted(round(sample.t_s * _US_PER_S), sample):
            self._kept.setdefault(effort, []).append((sample.t_s, value))

    def series(self, effort: Effort) -> Series:
        """Return one quantity in its unit; empty where nothing measures it."""
        kept = self._kept.get(effort, ())
        return Series.of((t for t, _ in kept), (v for _, v in kept))
