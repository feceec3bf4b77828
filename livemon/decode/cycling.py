"""Decode the CSC Measurement characteristic, 0x2A5B: cycling speed and cadence.

flags (8 bit) | wheel revolutions (32), last wheel event (16, 1/1024 s)? |
crank revolutions (16), last crank event (16, 1/1024 s)?
How far the bicycle goes in a revolution of the wheel is not sent, so there is no speed without it.
Source: Bluetooth SIG, GATT Specification Supplement, "CSC Measurement".
"""

from dataclasses import dataclass
from typing import Final

from livemon.decode.counters import CRANK, SPEED_WHEEL, RevolutionRate, Revolutions, way
from livemon.decode.fields import FieldReader
from livemon.decode.samples import IntensitySample, IntensitySource
from livemon.decode.uuids import sig_uuid

CYCLING_SERVICE: Final = sig_uuid(0x1816)
CSC_MEASUREMENT: Final = sig_uuid(0x2A5B)

_HAS_WHEEL: Final = 1 << 0
_HAS_CRANK: Final = 1 << 1


@dataclass(frozen=True, slots=True)
class CyclingCounts:
    """What one packet says; None for what the sensor doesn't count."""

    wheel: Revolutions | None
    crank: Revolutions | None


def decode_counts(payload: bytes) -> CyclingCounts:
    """Decode one notification.

    Raises:
        DecodeError: the payload ends before a field that its flags announce.
    """
    reader = FieldReader(payload, CSC_MEASUREMENT)
    flags = reader.uint(1, "flags")
    wheel = crank = None
    if flags & _HAS_WHEEL:
        count = reader.uint(4, "wheel revolutions")
        wheel = Revolutions(count, reader.uint(2, "wheel event time"))
    if flags & _HAS_CRANK:
        count = reader.uint(2, "crank revolutions")
        crank = Revolutions(count, reader.uint(2, "crank event time"))
    return CyclingCounts(wheel, crank)


class CyclingDecoder:
    """One sensor's counts, turned into cadence and speed."""

    __slots__ = ("_crank", "_wheel", "_wheel_m")

    def __init__(self, wheel_m: float | None = None) -> None:
        """Take the way of one revolution of the wheel, in metres, if it is known."""
        self._wheel_m = wheel_m
        self._wheel = RevolutionRate(SPEED_WHEEL)
        self._crank = RevolutionRate(CRANK)

    def decode(self, payload: bytes, t_s: float, sensor: str) -> tuple[IntensitySample, ...]:
        """Decode one notification; errors as `decode_counts`."""
        counts = decode_counts(payload)
        wheel = None if counts.wheel is None else self._wheel.update(counts.wheel, t_s)
        crank = None if counts.crank is None else self._crank.update(counts.crank, t_s)
        return (
            IntensitySample(
                t_s,
                sensor,
                IntensitySource.CYCLING,
                speed_m_per_s=way(wheel, self._wheel_m),
                cadence_per_min=None if crank is None else 60 * crank,
            ),
        )
