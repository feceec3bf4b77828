"""Open a link to a device only to learn what it offers, and set it free again.

Not every sensor says in its advertisement what it is. Nothing is written and nothing subscribed to.
"""

from dataclasses import dataclass
from typing import Final

from livemon.link.airtime import AirTime
from livemon.link.details import read_details
from livemon.link.farewell import Farewell
from livemon.link.radio import Opening, Sighting
from livemon.link.status import Details

#: Whoever asked looks at the screen and waits.
_WITHIN_S: Final = 10.0


@dataclass(frozen=True, slots=True)
class Inside:
    """What a device offers.

    Attributes:
        characteristics: their UUIDs, 128-bit, lower case.
    """

    address: str
    characteristics: frozenset[str]
    details: Details


async def look_inside(air: AirTime, farewell: Farewell, sighting: Sighting) -> Inside:
    """Return what the device offers.

    Raises:
        LinkLost: it can't be reached, or wants a pairing.
        RadioError: Bluetooth can't be used; the message says what to do.
    """
    link = await air.open_link(sighting, Opening(_WITHIN_S), _say_nothing)
    try:
        return Inside(sighting.address, link.characteristics, await read_details(link))
    finally:
        await farewell.close(link)


def _say_nothing() -> None:
    """The link ended: whoever reads from it is told by that read."""
