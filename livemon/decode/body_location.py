"""Decode the Body Sensor Location characteristic, 0x2A38: where a strap is meant to be worn.

Source: Bluetooth SIG, Heart Rate Service 1.0, "Body Sensor Location"; 7 to 255 are reserved.
"""

from enum import Enum
from typing import Final

from livemon.decode.uuids import sig_uuid

BODY_SENSOR_LOCATION: Final = sig_uuid(0x2A38)


class BodyLocation(Enum):
    """The places that the service knows, by their number."""

    OTHER = 0
    CHEST = 1
    WRIST = 2
    FINGER = 3
    HAND = 4
    EAR_LOBE = 5
    FOOT = 6


def decode_body_location(payload: bytes) -> BodyLocation | None:
    """Return the place; None for a reserved number or nothing at all."""
    if not payload or payload[0] > BodyLocation.FOOT.value:
        return None
    return BodyLocation(payload[0])
