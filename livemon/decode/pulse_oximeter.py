"""Decode the Pulse Oximeter Service's measurements, 0x2A5E (spot-check) and 0x2A5F (continuous).

spot-check: flags (8) | SpO2, pulse | time (7 octets)? | status (16)? | sensor status (24)? | …
continuous: flags (8) | SpO2, pulse | fast pair? | slow pair? | status? | sensor status? | …
Pairs are two medfloat16. The flags of the two don't stand in the same order.
This is *arterial* saturation. It says nothing about a muscle and is never taken for SmO2.
Source: Bluetooth SIG, Pulse Oximeter Service, "PLX Spot-check Measurement" and "PLX Continuous
Measurement" (characteristic definitions, 2015).
"""

from typing import Final

from livemon.decode.fields import FieldReader
from livemon.decode.medfloat import decode_sfloat
from livemon.decode.samples import ArterialSample
from livemon.decode.uuids import sig_uuid

PULSE_OXIMETER_SERVICE: Final = sig_uuid(0x1822)
SPOT_CHECK_MEASUREMENT: Final = sig_uuid(0x2A5E)
CONTINUOUS_MEASUREMENT: Final = sig_uuid(0x2A5F)

_SPOT_HAS_TIME: Final = 1 << 0
_SPOT_HAS_STATUS: Final = 1 << 1
_SPOT_HAS_SENSOR_STATUS: Final = 1 << 2

_CONTINUOUS_HAS_FAST: Final = 1 << 0
_CONTINUOUS_HAS_SLOW: Final = 1 << 1
_CONTINUOUS_HAS_STATUS: Final = 1 << 2
_CONTINUOUS_HAS_SENSOR_STATUS: Final = 1 << 3

_TIME_OCTETS: Final = 7
_STATUS_OCTETS: Final = 2
_SENSOR_STATUS_OCTETS: Final = 3

# Measurement status: 13 unavailable, 15 invalid leave no number to show; 10 demonstration,
# 11 testing, 12 calibration, 14 questionable leave one that nobody should trust.
_NO_READING: Final = 1 << 13 | 1 << 15
_DOUBTFUL: Final = _NO_READING | 1 << 10 | 1 << 11 | 1 << 12 | 1 << 14

# Sensor status: 1 malfunction, 3 inadequate signal, 8 questionable pulse, 11 not on the user,
# 12 unknown, 13 displaced, 14 malfunctioning, 15 disconnected.
_SENSOR_DOUBTFUL: Final = 1 << 1 | 1 << 3 | 1 << 8 | 0b11111 << 11

_MOST_PCT: Final = 100.0


def decode_spot_check(payload: bytes, t_s: float, sensor: str) -> ArterialSample:
    """Decode one spot-check measurement.

    Raises:
        DecodeError: the payload ends before a field that its flags announce.
    """
    reader = FieldReader(payload, SPOT_CHECK_MEASUREMENT)
    flags = reader.uint(1, "flags")
    pair = _pair(reader)
    if flags & _SPOT_HAS_TIME:
        reader.uint(_TIME_OCTETS, "time stamp")
    status = _word(reader, flags & _SPOT_HAS_STATUS, _STATUS_OCTETS, "measurement status")
    health = _word(reader, flags & _SPOT_HAS_SENSOR_STATUS, _SENSOR_STATUS_OCTETS, "sensor status")
    return _sample(t_s, sensor, pair, status, health)


def decode_continuous(payload: bytes, t_s: float, sensor: str) -> ArterialSample:
    """Decode one continuous measurement; of its readings the normal one is given.

    Raises:
        DecodeError: the payload ends before a field that its flags announce.
    """
    reader = FieldReader(payload, CONTINUOUS_MEASUREMENT)
    flags = reader.uint(1, "flags")
    pair = _pair(reader)
    if flags & _CONTINUOUS_HAS_FAST:
        _pair(reader)
    if flags & _CONTINUOUS_HAS_SLOW:
        _pair(reader)
    status = _word(reader, flags & _CONTINUOUS_HAS_STATUS, _STATUS_OCTETS, "measurement status")
    health = _word(
        reader, flags & _CONTINUOUS_HAS_SENSOR_STATUS, _SENSOR_STATUS_OCTETS, "sensor status"
    )
    return _sample(t_s, sensor, pair, status, health)


def _pair(reader: FieldReader) -> tuple[float | None, float | None]:
    spo2 = decode_sfloat(reader.uint(2, "SpO2"))
    return spo2, decode_sfloat(reader.uint(2, "pulse rate"))


def _word(reader: FieldReader, flag: int, octets: int, field: str) -> int | None:
    return reader.uint(octets, field) if flag else None


def _sample(
    t_s: float,
    sensor: str,
    pair: tuple[float | None, float | None],
    status: int | None,
    health: int | None,
) -> ArterialSample:
    spo2, pulse = pair
    trusted = None
    if status is not None or health is not None:
        trusted = not ((status or 0) & _DOUBTFUL or (health or 0) & _SENSOR_DOUBTFUL)
    if (status or 0) & _NO_READING:
        spo2 = pulse = None
    return ArterialSample(
        t_s,
        sensor,
        spo2 if spo2 is not None and 0 <= spo2 <= _MOST_PCT else None,
        pulse if pulse is not None and pulse > 0 else None,
        trusted,
    )
