"""Read what a sensor says of itself: battery, make, where it is worn, serial number.

All of it is optional and none of it may cost a link: what can't be read is left out. Nothing is
read that is subscribed to, because BlueZ then delivers the read as a notification too.
"""

from typing import Final

from livemon.decode.battery import decode_battery
from livemon.decode.body_location import BODY_SENSOR_LOCATION, decode_body_location
from livemon.decode.device_information import (
    FIRMWARE_REVISION,
    MANUFACTURER_NAME,
    MODEL_NUMBER,
    decode_text,
)
from livemon.decode.uuids import sig_uuid
from livemon.errors import DecodeError, LinkLost, RadioError
from livemon.link.radio import Channel, Link
from livemon.link.status import Details

#: Read only to tell two devices of one name apart; it never leaves the registry.
_SERIAL_NUMBER: Final = sig_uuid(0x2A25)


async def read_details(link: Link) -> Details:
    """Return what the sensor says of itself."""
    location = await read_if_offered(link, BODY_SENSOR_LOCATION)
    return Details(
        manufacturer=await _text(link, MANUFACTURER_NAME),
        model=await _text(link, MODEL_NUMBER),
        firmware=await _text(link, FIRMWARE_REVISION),
        worn_on=None if location is None else decode_body_location(location),
    )


async def read_serial(link: Link) -> str | None:
    """Return the serial number; personal data, for the registry only."""
    return await _text(link, _SERIAL_NUMBER)


async def read_if_offered(link: Link, characteristic: str) -> bytes | None:
    """Return a value, or None where the sensor has none or does not give it."""
    try:
        if characteristic not in link.characteristics:
            return None
        return await link.read(characteristic)
    except (LinkLost, RadioError):
        return None


async def read_format(link: Link, channel: Channel) -> bytes | None:
    """Return how a characteristic's values are written, or None where that can't be read."""
    try:
        return await link.described(channel)
    except (LinkLost, RadioError):
        return None


def battery_pct(payload: bytes) -> int | None:
    """Return the charge; None where it is not known."""
    try:
        return decode_battery(payload, 0.0, "").battery_pct
    except DecodeError:
        return None


async def _text(link: Link, characteristic: str) -> str | None:
    payload = await read_if_offered(link, characteristic)
    return decode_text(payload) or None if payload is not None else None
