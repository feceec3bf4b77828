"""UUIDs of characteristics as a line holds them: four digits where the Bluetooth SIG assigned it.

Source: Bluetooth Core Specification, Vol 3 Part B, 2.5.1 "UUID" (the base UUID).
"""

import re
from functools import lru_cache
from typing import Final

_BEFORE: Final = "0000"
_AFTER: Final = "-0000-1000-8000-00805f9b34fb"
_SHORT: Final = re.compile(r"[0-9a-f]{4}")
_UUID: Final = re.compile(r"[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}")


@lru_cache(maxsize=256)
def short_uuid(uuid: str) -> str:
    """Return four digits for an assigned UUID, and any other as it is.

    Raises:
        ValueError: this is no UUID in lower case.
    """
    if not _UUID.fullmatch(uuid):
        raise ValueError(uuid)
    if uuid.startswith(_BEFORE) and uuid.endswith(_AFTER):
        return uuid.removeprefix(_BEFORE).removesuffix(_AFTER)
    return uuid


@lru_cache(maxsize=256)
def long_uuid(digits: str) -> str:
    """Return the 36 characters of what `short_uuid` gave, whatever its case.

    Raises:
        ValueError: these are neither four digits nor a UUID.
    """
    lower = digits.lower()
    if _SHORT.fullmatch(lower):
        return f"{_BEFORE}{lower}{_AFTER}"
    if not _UUID.fullmatch(lower):
        raise ValueError(digits)
    return lower
