"""Decode the texts of the Device Information Service, 0x180A.

UTF-8, of any length, with no promise of a terminator; all of them may be missing.
Source: Bluetooth SIG, Device Information Service and GATT Specification Supplement.
A serial number is personal data: it is not among the texts that livemon asks for.
"""

from typing import Final

from livemon.decode.uuids import sig_uuid

DEVICE_INFORMATION_SERVICE: Final = sig_uuid(0x180A)
MANUFACTURER_NAME: Final = sig_uuid(0x2A29)
MODEL_NUMBER: Final = sig_uuid(0x2A24)
FIRMWARE_REVISION: Final = sig_uuid(0x2A26)


def decode_text(payload: bytes) -> str:
    """Return the text fit for a screen; anything that can't be shown becomes U+FFFD."""
    text = payload.decode("utf-8", errors="replace").rstrip("\0 \t\r\n")
    # A stranger's device wrote this: no line breaks or terminal control codes may pass.
    return "".join(letter if letter.isprintable() else "\ufffd" for letter in text)
