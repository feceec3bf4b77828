"""Names of services and characteristics: short Bluetooth SIG numbers and full UUIDs.

Everywhere inside livemon a UUID is its 36 characters in lower case.
Source: Bluetooth Core Specification, Vol 3 Part B, 2.5.1 "UUID" (the base UUID).
"""

import re
from typing import Final
from uuid import UUID

_BASE: Final = "-0000-1000-8000-00805f9b34fb"
_SHORT: Final = re.compile(r"(?:0x)?([0-9A-Fa-f]{4})")


def sig_uuid(number: int) -> str:
    """Return the full UUID of a 16-bit number that the Bluetooth SIG assigned."""
    return f"{number:08x}{_BASE}"


def normal_uuid(text: str) -> str | None:
    """Return `text` (a full UUID, or four hexadecimal digits) as a full one; None if neither."""
    if short := _SHORT.fullmatch(text):
        return sig_uuid(int(short[1], 16))
    try:
        return str(UUID(text))
    except ValueError:
        return None
