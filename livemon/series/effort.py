"""What is let into the channels that say how hard the work is: power, speed, cadence and so on.

Two sensors of one athlete may measure the same quantity (a wheel sensor and a power meter both
know a speed) and never agree quite. Mixed, they would make a signal that jumps, so each quantity
is taken from one sensor: the first that was heard, and another only once that one is silent.
"""

from collections.abc import Iterator
from enum import Enum
from math import isfinite
from types import MappingProxyType
from typing import Final

from livemon.decode.samples import IntensitySample


class Effort(Enum):
    """A quantity that says how hard the work is; the value is its name with the unit."""

    POWER = "power_w"
    SPEED = "speed_m_per_s"
    CADENCE = "cadence_per_min"
    DISTANCE = "distance_m"
    INCLINE = "incline_pct"


#: Sensors of the standard profiles send about once a second (common practice, no source); one that
#: is silent for so many periods gives way.
GIVES_WAY_US: Final = 5_000_000

# Beyond these it is damage, not work. Common practice, no source: track sprinters come near 25 m/s
# and 2500 W, a pedal may push back, and no distance of a session reaches 10 000 km.
_LIMITS: Final = MappingProxyType[Effort, tuple[float, float]](
    {
        Effort.POWER: (-500.0, 4000.0),
        Effort.SPEED: (0.0, 30.0),
        Effort.CADENCE: (0.0, 300.0),
        Effort.DISTANCE: (0.0, 1e7),
        Effort.INCLINE: (-50.0, 50.0),
    }
)


class EffortGate:
    """Admission of one athlete's intensity samples."""

    __slots__ = ("_heard",)

    def __init__(self) -> None:
        #: By quantity: the sensor it is taken from, and when that was last heard.
        self._heard: dict[Effort, tuple[str, int]] = {}

    def admitted(self, t_us: int, sample: IntensitySample) -> Iterator[tuple[Effort, float]]:
        """Yield the quantities of `sample` that are used, with their values."""
        for effort, (low, high) in _LIMITS.items():
            value: float | None = getattr(sample, effort.value)
            if value is None or not isfinite(value) or not low <= value <= high:
                continue
            sensor, heard_us = self._heard.get(effort, (sample.sensor, t_us))
            if t_us < heard_us or (sensor != sample.sensor and t_us - heard_us < GIVES_WAY_US):
                continue
            self._heard[effort] = sample.sensor, t_us
            yield effort, value
