"""What an invented sensor puts on the air: samples back into the bytes that say them."""

from struct import pack
from typing import Final

from livemon.decode.adapter import Adapter
from livemon.decode.samples import HeartRateSample, OxygenationSample

# Heart Rate Measurement (0x2A37), flags field; Bluetooth SIG, Heart Rate Service 1.0.
_CONTACT_DETECTED: Final = 1 << 1
_CONTACT_SUPPORTED: Final = 1 << 2
_HAS_RR_INTERVALS: Final = 1 << 4

_RR_UNITS_PER_SECOND: Final = 1024
#: As many as the smallest ATT_MTU of 23 octets has room for beside an 8-bit rate.
_MOST_RR: Final = 9


def heart_rate_packet(sample: HeartRateSample) -> bytes:
    """Encode a Heart Rate Measurement with an 8-bit rate; no heart rate is sent as 0."""
    flags = 0
    if sample.contact is not None:
        flags |= _CONTACT_SUPPORTED | (_CONTACT_DETECTED if sample.contact else 0)
    rr_s = sample.rr_s[-_MOST_RR:]
    if rr_s:
        flags |= _HAS_RR_INTERVALS
    bpm = 0 if sample.bpm is None else round(sample.bpm)
    return pack("<BB", flags, bpm) + b"".join(
        pack("<H", round(interval * _RR_UNITS_PER_SECOND)) for interval in rr_s
    )


def oxygenation_packet(sample: OxygenationSample, adapter: Adapter, sequence: int) -> bytes:
    """Encode one channel's reading as a sensor of the demo's adapter would."""
    return adapter.encode(
        {
            "smo2": sample.smo2_pct,
            "thb": sample.thb,
            "sequence": sequence % (adapter.sequence_modulo or 1),
            "contact": float(sample.contact is not False),
        }
    )
