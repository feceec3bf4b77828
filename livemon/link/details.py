"""Read what a sensor says of itself: battery, make, where it is worn, serial number.

All of it is optional and none of it may cost a link: what can't be read is left out. Nothing is
read that is subscribed to, because BlueZ then delivers the read as a notification too.
"""

from typing import Final

from livemon.errors import LinkLost
from livemon.link.plan import (
    BODY_SENSOR_LOCATION,
    FIRMWARE_REVISION,
    MANUFACTURER_NAME,
    MODEL_NUMBER,
    SERIAL_NUMBER,
)
from livemon.link.radio import Link
from livemon.link.status import Details

#: GATT Specification Supplement, Body Sensor Location; 7 to 255 are reserved.
_LOCATIONS: Final = ("other", "chest", "wrist", "finger", "hand", "ear lobe", "foot")


async def read_details(link: Link) -> Details:
    """Return what the sensor says of itself."""
    return Details(
        manufacturer=await _text(link, MANUFACTURER_NAME),
        model=await _text(link, MODEL_NUMBER),
        firmware=await _text(link, FIRMWARE_REVISION),
        worn_on=_location(await read_if_offered(link, BODY_SENSOR_LOCATION)),
    )


async def read_serial(link: Link) -> str | None:
    """Return the serial number; personal data, for the registry only."""
    return await _text(link, SERIAL_NUMBER)


async def read_if_offered(link: Link, characteristic: str) -> bytes | None:
    """Return a value, or None where the sensor has none or does not give it."""
    try:
        if characteristic not in link.characteristics:
            return None
        return await link.read(characteristic)
    except LinkLost:
        return None


def battery_pct(payload: bytes) -> int | None:
    """Return the charge; None for what the Battery Service reserves, and for other lengths.

    Some systems give 100 zero bytes where they know nothing.
    """
    if len(payload) != 1 or payload[0] > 100:
        return None
    return payload[0]


async def _text(link: Link, characteristic: str) -> str | None:
    """Strings are UTF-8 of any length (GSS utf8s); some sensors end them with zeros."""
    payload = await read_if_offered(link, characteristic)
    if payload is None:
        return None
    return payload.decode("utf-8", errors="replace").rstrip("\0 ") or None


def _location(payload: bytes | None) -> str | None:
    if payload is None or len(payload) != 1 or payload[0] >= len(_LOCATIONS):
        return None
    return _LOCATIONS[payload[0]]
