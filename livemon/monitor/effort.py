"""How hard one athlete works, from samples to their part of the snapshot.

The warning doesn't look at it: what a muscle can supply shows in the muscle.
"""

from typing import Final

from livemon.decode.samples import ArterialSample, IntensitySample, IntensitySource
from livemon.estimate.freshness import Freshness
from livemon.monitor.snapshot import ArterialState, EffortState, Trust
from livemon.series.effort import Effort, EffortGate

_US: Final = 1e6


class EffortWatch:
    """Everything about one athlete's power, speed, cadence and so on."""

    __slots__ = ("_channels", "_gate")

    def __init__(self) -> None:
        self._gate = EffortGate()
        self._channels: dict[Effort, _Channel] = {}

    def feed(self, sample: IntensitySample) -> None:
        """Take one sample."""
        t_us = round(sample.t_s * _US)
        for effort, value in self._gate.admitted(t_us, sample):
            channel = self._channels.setdefault(effort, _Channel())
            channel.value, channel.source = value, sample.source
            channel.sensor = sample.sensor
            channel.freshness.seen(t_us)

    def states(self, t_s: float) -> tuple[EffortState, ...]:
        """Return what was measured so far, in the order of `Effort`."""
        t_us = round(t_s * _US)
        return tuple(
            self._channels[effort].state(effort, t_us)
            for effort in Effort
            if effort in self._channels
        )


class _Channel:
    """One quantity."""

    __slots__ = ("freshness", "sensor", "source", "value")

    def __init__(self) -> None:
        self.value = 0.0
        self.source = IntensitySource.RUNNING
        self.sensor = ""
        self.freshness = Freshness()

    def state(self, effort: Effort, t_us: int) -> EffortState:
        stale = self.freshness.stale(t_us)
        return EffortState(
            effort,
            self.value,
            self.freshness.age_s(t_us),
            Trust.STALE if stale else Trust.GOOD,
            self.source,
            self.sensor,
        )


class ArterialWatch:
    """One athlete's arterial saturation; no muscle's."""

    __slots__ = ("_freshness", "_last", "_trusted")

    def __init__(self) -> None:
        self._freshness = Freshness()
        self._last: ArterialSample | None = None
        self._trusted = True

    def feed(self, sample: ArterialSample) -> None:
        """Take one sample; the last one with a value is kept, and its age tells."""
        self._trusted = sample.trusted is not False
        if sample.spo2_pct is not None or self._last is None:
            self._last = sample
        if sample.spo2_pct is not None:
            self._freshness.seen(round(sample.t_s * _US))

    def state(self, t_s: float) -> ArterialState | None:
        """Return its part of the snapshot; None where no pulse oximeter has been heard."""
        last = self._last
        if last is None:
            return None
        t_us = round(t_s * _US)
        return ArterialState(
            last.spo2_pct, last.pulse_bpm, self._freshness.age_s(t_us), self._trust(last, t_us)
        )

    def _trust(self, last: ArterialSample, t_us: int) -> Trust:
        if last.spo2_pct is None:
            return Trust.ABSENT
        if self._freshness.stale(t_us):
            return Trust.STALE
        return Trust.GOOD if self._trusted else Trust.SUSPECT
