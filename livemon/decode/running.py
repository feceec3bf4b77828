"""Decode the RSC Measurement characteristic, 0x2A53: running speed and cadence.

flags (8 bit) | speed (16, 1/256 m/s) | cadence (8, 1/min) | stride length (16, cm)? |
total distance (32, 1/10 m)?
Whether a foot sensor counts the steps of both feet or of its own is not said; it is passed on.
Source: Bluetooth SIG, GATT Specification Supplement, "RSC Measurement".
"""

from typing import Final

from livemon.decode.fields import FieldReader
from livemon.decode.samples import IntensitySample, IntensitySource
from livemon.decode.uuids import sig_uuid

RUNNING_SERVICE: Final = sig_uuid(0x1814)
RSC_MEASUREMENT: Final = sig_uuid(0x2A53)

_HAS_STRIDE_LENGTH: Final = 1 << 0
_HAS_TOTAL_DISTANCE: Final = 1 << 1

_SPEED_UNITS: Final = 256  # in 1 m/s
_DISTANCE_UNITS: Final = 10  # in 1 m


def decode_running(payload: bytes, t_s: float, sensor: str) -> IntensitySample:
    """Decode one notification.

    Raises:
        DecodeError: the payload ends before a field that its flags announce.
    """
    reader = FieldReader(payload, RSC_MEASUREMENT)
    flags = reader.uint(1, "flags")
    speed = reader.uint(2, "speed")
    cadence = reader.uint(1, "cadence")
    if flags & _HAS_STRIDE_LENGTH:
        reader.uint(2, "stride length")
    distance_m = None
    if flags & _HAS_TOTAL_DISTANCE:
        distance_m = reader.uint(4, "total distance") / _DISTANCE_UNITS
    return IntensitySample(
        t_s,
        sensor,
        IntensitySource.RUNNING,
        speed_m_per_s=speed / _SPEED_UNITS,
        cadence_per_min=float(cadence),
        distance_m=distance_m,
    )
