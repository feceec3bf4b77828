"""Decode the Heart Rate Measurement characteristic, 0x2A37.

flags (8 bit) | heart rate (8 or 16 bit) | energy expended (16 bit)? | RR interval (16 bit)*
All little-endian; `?` and `*` are there when their flag is set, and flags change from packet to
packet. How many RR intervals there are follows from the length alone.
Source: Bluetooth SIG, Heart Rate Service 1.0, "Heart Rate Measurement"; GATT Specification
Supplement, "Heart Rate Measurement".
"""

from struct import unpack_from
from typing import Final

from livemon.decode.samples import HeartRateSample
from livemon.decode.uuids import sig_uuid
from livemon.errors import DecodeError

HEART_RATE_SERVICE: Final = sig_uuid(0x180D)
HEART_RATE_MEASUREMENT: Final = sig_uuid(0x2A37)

# Flags field, bit 0 is the least significant; bits 5 to 7 are reserved and ignored.
_RATE_IS_16_BIT: Final = 1 << 0
_CONTACT_DETECTED: Final = 1 << 1
_CONTACT_SUPPORTED: Final = 1 << 2
_HAS_ENERGY_EXPENDED: Final = 1 << 3
_HAS_RR_INTERVALS: Final = 1 << 4

_RR_UNITS_PER_SECOND: Final = 1024


def decode_heart_rate(payload: bytes, t_s: float) -> HeartRateSample:
    """Decode one notification that arrived at `t_s`.

    The service has no code for "no reading". A rate of 0, and any rate that a strap reports while
    it says that it has no skin contact, is given as None; so is an RR interval of 0 left out.

    Raises:
        DecodeError: the payload ends before a field that its flags announce.
    """
    size = len(payload)
    if size == 0:
        raise _ends_before("flags", payload)
    flags = payload[0]
    at = 3 if flags & _RATE_IS_16_BIT else 2
    if size < at:
        raise _ends_before("heart rate", payload)
    bpm = payload[1] | payload[2] << 8 if flags & _RATE_IS_16_BIT else payload[1]

    energy_kj = None
    if flags & _HAS_ENERGY_EXPENDED:
        if size < at + 2:
            raise _ends_before("energy expended", payload)
        energy_kj = payload[at] | payload[at + 1] << 8
        at += 2

    rr_s: tuple[float, ...] = ()
    if flags & _HAS_RR_INTERVALS:
        count = (size - at) // 2
        intervals = unpack_from(f"<{count}H", payload, at)
        rr_s = tuple([interval / _RR_UNITS_PER_SECOND for interval in intervals if interval])
        at += 2 * count

    contact = bool(flags & _CONTACT_DETECTED) if flags & _CONTACT_SUPPORTED else None
    known = bpm > 0 and contact is not False
    return HeartRateSample(t_s, bpm if known else None, contact, rr_s, energy_kj, size - at)


def _ends_before(field: str, payload: bytes) -> DecodeError:
    return DecodeError(HEART_RATE_MEASUREMENT, f"ends before {field}", payload)
