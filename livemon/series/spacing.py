"""How long after the one before it a reading was taken, although both may arrive at once.

A radio holds readings back and hands them over together, so arrival says when the last of them was
taken at the latest, and nothing about the others. The sensor itself says more: by its clock, by
its packet counter, by the RR intervals it counted, or at least by the period it has kept so far.
A counter that starts again, or jumps, is left aside for that one step.
"""

from typing import Final

from livemon.decode.samples import HeartRateSample, OxygenationSample

#: A longer interval is an interruption, not a period.
_LONGEST_US: Final = 10_000_000
#: A counter that moved further was reset, or went round while nobody listened.
_MOST_STEPS: Final = 100
#: Packets that the period is a mean of, in the end: 8 s at 4 Hz, several bursts of any radio.
_WEIGHT: Final = 1 / 32


class Period:
    """Learns how far apart a sensor's packets are, from when they arrive.

    Bursts and delays cancel out over many packets; lost ones are told by the steps of a counter.
    """

    __slots__ = ("_count", "_interval_us", "_last_us", "_steps")

    def __init__(self) -> None:
        self._last_us: int | None = None
        self._count = 0
        self._interval_us = 0.0
        self._steps = 1.0

    def after(self, t_us: int, steps: int = 1) -> float:
        """Take a packet that arrived at `t_us`, `steps` after the last; return us from it to this.

        0 while nothing is known.
        """
        last_us, self._last_us = self._last_us, t_us
        if last_us is None:
            return 0.0
        interval_us = t_us - last_us
        if interval_us <= _LONGEST_US:
            self._count += 1
            weight = max(_WEIGHT, 1 / self._count)
            self._interval_us += weight * (interval_us - self._interval_us)
            self._steps += weight * (steps - self._steps)
        return steps * self._interval_us / self._steps


class OxygenationSpacing:
    """Spacing of one oximeter channel's readings."""

    __slots__ = ("_device_us", "_period", "_sequence")

    def __init__(self) -> None:
        self._period = Period()
        self._device_us: int | None = None
        self._sequence: int | None = None

    def after_us(self, t_us: int, sample: OxygenationSample) -> int:
        """Take the next reading; return microseconds since the one before it."""
        steps = self._steps(sample.sequence)
        learned_us = self._period.after(t_us, steps)
        told_us = self._told_us(sample.device_t_s)
        return round(learned_us) if told_us is None else told_us

    def _steps(self, sequence: int | None) -> int:
        last, self._sequence = self._sequence, sequence
        if sequence is None or last is None:
            return 1
        return sequence - last if 0 < sequence - last <= _MOST_STEPS else 1

    def _told_us(self, device_t_s: float | None) -> int | None:
        device_us = None if device_t_s is None else round(device_t_s * 1e6)
        last_us, self._device_us = self._device_us, device_us
        if device_us is None or last_us is None:
            return None
        return device_us - last_us if 0 < device_us - last_us <= _LONGEST_US else None


class HeartRateSpacing:
    """Spacing of one strap's readings: each tells of the time up to its last beat."""

    __slots__ = ("_period",)

    def __init__(self) -> None:
        self._period = Period()

    def after_us(self, t_us: int, sample: HeartRateSample) -> int:
        """Take the next reading; return microseconds since the one before it."""
        learned_us = self._period.after(t_us)
        beats_us = round(sum(sample.rr_s) * 1e6)
        return beats_us if 0 < beats_us <= _LONGEST_US else round(learned_us)
