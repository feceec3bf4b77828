"""Decode the Cycling Power Measurement characteristic, 0x2A63.

flags (16 bit) | power (16, signed, W) | then by flag, in the order of the bits:
0 balance (8) · 2 torque (16) · 4 wheel revolutions (32), event (16, 1/2048 s) ·
5 crank revolutions (16), event (16, 1/1024 s) · 6 extreme forces (2×16) ·
7 extreme torques (2×16) · 8 extreme angles (2×12) · 9, 10 dead spots (16 each) · 11 energy (16)
Bits 1, 3 and 12 add no octets.
Source: Bluetooth SIG, GATT Specification Supplement, "Cycling Power Measurement".
"""

from dataclasses import dataclass
from typing import Final

from livemon.decode.counters import CRANK, POWER_WHEEL, RevolutionRate, Revolutions, way
from livemon.decode.fields import FieldReader
from livemon.decode.samples import IntensitySample, IntensitySource
from livemon.decode.uuids import sig_uuid

CYCLING_POWER_SERVICE: Final = sig_uuid(0x1818)
CYCLING_POWER_MEASUREMENT: Final = sig_uuid(0x2A63)

_HAS_BALANCE: Final = 1 << 0
_HAS_TORQUE: Final = 1 << 2
_HAS_WHEEL: Final = 1 << 4
_HAS_CRANK: Final = 1 << 5

# Read only to see that the packet is whole: bit, octets, name.
_BEHIND: Final = (
    (6, 4, "extreme forces"),
    (7, 4, "extreme torques"),
    (8, 3, "extreme angles"),
    (9, 2, "top dead spot"),
    (10, 2, "bottom dead spot"),
)
_HAS_ENERGY: Final = 1 << 11

_BALANCE_UNITS: Final = 2  # in 1 %


@dataclass(frozen=True, slots=True)
class PowerMeasurement:
    """What one packet says; None for what it doesn't."""

    power_w: int
    balance_pct: float | None
    wheel: Revolutions | None
    crank: Revolutions | None
    energy_kj: int | None


def decode_power(payload: bytes) -> PowerMeasurement:
    """Decode one notification.

    Raises:
        DecodeError: the payload ends before a field that its flags announce.
    """
    reader = FieldReader(payload, CYCLING_POWER_MEASUREMENT)
    flags = reader.uint(2, "flags")
    power_w = reader.sint(2, "power")
    balance_pct = None
    if flags & _HAS_BALANCE:
        balance_pct = reader.uint(1, "pedal balance") / _BALANCE_UNITS
    if flags & _HAS_TORQUE:
        reader.uint(2, "accumulated torque")
    wheel = crank = None
    if flags & _HAS_WHEEL:
        count = reader.uint(4, "wheel revolutions")
        wheel = Revolutions(count, reader.uint(2, "wheel event time"))
    if flags & _HAS_CRANK:
        count = reader.uint(2, "crank revolutions")
        crank = Revolutions(count, reader.uint(2, "crank event time"))
    for bit, octets, name in _BEHIND:
        if flags >> bit & 1:
            reader.uint(octets, name)
    energy_kj = reader.uint(2, "accumulated energy") if flags & _HAS_ENERGY else None
    return PowerMeasurement(power_w, balance_pct, wheel, crank, energy_kj)


class CyclingPowerDecoder:
    """One power meter's packets, with the cadence from its crank and the speed from its wheel."""

    __slots__ = ("_crank", "_wheel", "_wheel_m")

    def __init__(self, wheel_m: float | None = None) -> None:
        """Take the way of one revolution of the wheel, in metres, if it is known."""
        self._wheel_m = wheel_m
        self._wheel = RevolutionRate(POWER_WHEEL)
        self._crank = RevolutionRate(CRANK)

    def decode(self, payload: bytes, t_s: float, sensor: str) -> tuple[IntensitySample, ...]:
        """Decode one notification; errors as `decode_power`."""
        told = decode_power(payload)
        wheel = None if told.wheel is None else self._wheel.update(told.wheel, t_s)
        crank = None if told.crank is None else self._crank.update(told.crank, t_s)
        return (
            IntensitySample(
                t_s,
                sensor,
                IntensitySource.CYCLING,
                power_w=float(told.power_w),
                speed_m_per_s=way(wheel, self._wheel_m),
                cadence_per_min=None if crank is None else 60 * crank,
            ),
        )
