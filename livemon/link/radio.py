"""What supervision needs of a radio, and nothing more: sightings, and links that deliver bytes.

The real one stands in `bleak_radio` and `bleak_link`. Nothing here knows bleak, an operating
system or a clock.
"""

from collections.abc import Callable
from contextlib import AbstractAsyncContextManager
from dataclasses import dataclass, field
from typing import Protocol

#: Called with arrival time in nanoseconds and the bytes, from the event loop, as a plain call.
OnPayload = Callable[[int, bytes], None]


@dataclass(frozen=True, slots=True)
class Sighting:
    """One advertisement, or a device that this computer already holds a link to."""

    address: str  #: as this computer names the device; on macOS a UUID that holds only there
    name: str | None
    rssi_dbm: int | None  #: None where the system holds a link and hears no advertisement
    services: frozenset[str]  #: advertised service UUIDs, 128-bit, lower case
    device: object = field(default=None, compare=False, repr=False)  #: the platform's handle


@dataclass(frozen=True, slots=True)
class Channel:
    """A characteristic that sends notifications, and the service that it belongs to."""

    characteristic: str
    service: str | None = None  #: None takes the first service that has it


@dataclass(frozen=True, slots=True)
class Opening:
    """How to open a link.

    Attributes:
        within_s: after this the attempt is given up.
        pair: pair first; only where the adapter file says so.
        fresh_services: don't trust the table of services that the system remembers.
    """

    within_s: float = 10.0
    pair: bool = False
    fresh_services: bool = False


class Link(Protocol):
    """An open link. Each call ends within its own time; all raise `LinkLost`."""

    @property
    def characteristics(self) -> frozenset[str]:
        """UUIDs of all characteristics that the sensor offers."""

    async def subscribe(self, channel: Channel, on_payload: OnPayload, *, acquire: bool) -> None:
        """Have `on_payload` called for each notification; `acquire` is BlueZ's other way."""

    async def read(self, characteristic: str) -> bytes:
        """Return the value of a characteristic; never one that is subscribed to."""

    async def described(self, channel: Channel) -> bytes | None:
        """Return the presentation format of a characteristic (0x2904).

        None where it has none, or several, which describe parts of it.
        """

    async def write(self, characteristic: str, payload: bytes, *, response: bool) -> None:
        """Write one that the adapter file names."""

    async def close(self) -> None:
        """End the link; harmless on one that has ended."""


class Radio(Protocol):
    """One Bluetooth adapter. It does not forbid overlaps; `airtime` avoids them."""

    def scanning(
        self, on_sighting: Callable[[Sighting], None]
    ) -> AbstractAsyncContextManager[None]:
        """Scan inside the `async with`.

        Raises:
            RadioError: Bluetooth can't be used; the message says what to do.
            LinkLost: not this time.
        """

    async def open_link(
        self, sighting: Sighting, opening: Opening, on_closed: Callable[[], None]
    ) -> Link:
        """Open a link to a device just seen.

        `on_closed` is a hint: it may come late, twice, never, or for our own `close`.

        Raises:
            RadioError: Bluetooth can't be used; the message says what to do.
            LinkLost: not this time; its subclasses say why.
        """

    async def held(self, services: frozenset[str]) -> tuple[Sighting, ...]:
        """Return devices that this computer holds a link to, also after a crash of ours."""
