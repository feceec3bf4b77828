"""What is out there: adapters and peripherals, described but not alive."""

import re
from dataclasses import dataclass
from typing import Final

_UUID: Final = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")
_ADDRESS: Final = re.compile(r"([0-9A-F]{2}:){5}[0-9A-F]{2}")


@dataclass(frozen=True, slots=True)
class Characteristic:
    """A value that a peripheral offers.

    Attributes:
        uuid: 128 bits, in lower case.
        flags: what may be done with it, in BlueZ's words: "read", "write", "notify", "indicate"...
        value: what a read gives until something else is set.
    """

    uuid: str
    flags: tuple[str, ...]
    value: bytes = b""

    def __post_init__(self) -> None:
        _check_uuid(self.uuid)

    @property
    def notifies(self) -> bool:
        """Whether a client may subscribe to it."""
        return "notify" in self.flags or "indicate" in self.flags


@dataclass(frozen=True, slots=True)
class Service:
    """Characteristics that belong together."""

    uuid: str
    characteristics: tuple[Characteristic, ...]

    def __post_init__(self) -> None:
        _check_uuid(self.uuid)


@dataclass(frozen=True, slots=True)
class Peripheral:
    """A sensor.

    Attributes:
        address: six octets in upper case, as BlueZ writes them.
        advertises: UUIDs in its advertisement; None means those of all its services.
        connect_delay_s: how long it takes to answer a connection request.
        resolve_delay_s: how long its services take to be found once the link is open.
    """

    address: str
    name: str
    services: tuple[Service, ...]
    advertises: tuple[str, ...] | None = None
    rssi_dbm: int = -60
    connect_delay_s: float = 0.0
    resolve_delay_s: float = 0.0

    def __post_init__(self) -> None:
        if not _ADDRESS.fullmatch(self.address):
            raise ValueError(
                f"expected an address like 'C0:00:00:00:00:01', found {self.address!r}"
            )

    @property
    def advertised(self) -> tuple[str, ...]:
        """UUIDs that a scanner hears."""
        if self.advertises is None:
            return tuple(service.uuid for service in self.services)
        return self.advertises


@dataclass(frozen=True, slots=True)
class Adapter:
    """The computer's own radio.

    Attributes:
        max_links: links it can hold; beyond that it hears nobody new. None means no limit.
        one_at_a_time: a scan and a connection attempt, or two attempts, shut each other out.
            Real adapters differ; this is the harder kind.
        advertising_interval_s: how often each free peripheral is heard while a scan runs.
    """

    name: str = "hci0"
    address: str = "00:00:5E:00:53:01"  # octets set aside for documentation by RFC 7042
    max_links: int | None = None
    one_at_a_time: bool = True
    advertising_interval_s: float = 1.0


def _check_uuid(uuid: str) -> None:
    if not _UUID.fullmatch(uuid):
        raise ValueError(f"expected a 128-bit UUID in lower case, found {uuid!r}")
