"""Decode the Battery Level characteristic, 0x2A19: one octet, 0 to 100 %.

Source: Bluetooth SIG, GATT Specification Supplement, "Battery Level": all other values are
reserved for future use.
"""

from typing import Final

from livemon.decode.samples import BatterySample
from livemon.decode.uuids import sig_uuid
from livemon.errors import DecodeError

BATTERY_SERVICE: Final = sig_uuid(0x180F)
BATTERY_LEVEL: Final = sig_uuid(0x2A19)

_FULL_PCT: Final = 100


def decode_battery(payload: bytes, t_s: float, sensor: str) -> BatterySample:
    """Decode what was read or notified; 101 to 255 mean nothing and are given as None.

    Raises:
        DecodeError: not one octet. Some systems hand out a run of zeros instead of the value,
            which must not pass for an empty battery (seen with BlueZ, bleak issue 750).
    """
    if len(payload) != 1:
        problem = f"{len(payload)} octets, expected 1"
        raise DecodeError(BATTERY_LEVEL, problem, payload)
    return BatterySample(t_s, sensor, payload[0] if payload[0] <= _FULL_PCT else None)
