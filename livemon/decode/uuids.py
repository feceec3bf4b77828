"""Names of services and characteristics: short Bluetooth SIG numbers and full UUIDs.

Everywhere inside livemon a UUID is its 36 characters in lower case.
Source: Bluetooth Core Specification, Vol 3 Part B, 2.5.1 "UUID" (the base UUID).
"""

from typing import Final
from uuid import UUID

_BASE: Final = "-0000-1000-8000-00805f9b34fb"
_SHORT_DIGITS: Final = 4


def sig_uuid(number: int) -> str:
    """Return the full UUID of a 16-bit number that the Bluetooth SIG assigned."""
    return f"{number:08x}{_BASE}"


def normal_uuid(text: str) -> str | None:
    """Return `text` (a full UUID, or four hexadecimal digits) as a full one; None if neither."""
    digits = text.removeprefix("0x")
    try:
        return sig_uuid(int(digits, 16)) if len(digits) == _SHORT_DIGITS else str(UUID(text))
    except ValueError:
        return None
