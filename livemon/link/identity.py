"""Who is who: remembered sensors, and which sighting is the one that is looked for.

A sample must never reach another athlete, so this never guesses. An address that this computer has
learned decides. A name decides only where one remembered sensor and one device nearby carry it, and
where moreover nothing better is known (a person gave just the name), or a serial number will be
compared, or the sensor is known to change its address. In all other cases a person is asked.
Addresses hold for one computer only (macOS hands out its own), hence each is kept with its host.
Pure functions on plain data; no clock, no file, no radio.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from livemon.link.radio import Sighting

#: Two advertisements at the longest interval that is common (1.285 s): after that long a second
#: device of the same name would have been heard too.
SETTLE_NS: Final = 2_600_000_000
#: A device not heard for this long is no longer nearby.
NEARBY_NS: Final = 60_000_000_000

#: A sensor that changes its address at each start is remembered by its latest ones.
MOST_ADDRESSES: Final = 100


@dataclass(frozen=True, slots=True)
class HostAddress:
    """What one computer calls a sensor."""

    host: str  #: id of the computer, of our own making
    address: str


@dataclass(frozen=True, slots=True)
class Remembered:
    """A sensor that is known from before.

    Attributes:
        sensor: our own id; never an address.
        name: for people.
        advertised_name: what it calls itself on the air; None where that is not known.
        adapter: name of the oxygenation adapter; None for one that speaks standard profiles only.
        addresses: what computers call it, latest last.
        serial: from Device Information, to tell two of a kind apart; personal data.
        battery_pct: as last read.
        work: it measures the work, or arterial saturation, by a standard profile.
        wheel_m: how far the wheel that it counts goes in one revolution, as last said.
    """

    sensor: str
    name: str
    advertised_name: str | None = None
    adapter: str | None = None
    addresses: tuple[HostAddress, ...] = ()
    serial: str | None = None
    battery_pct: int | None = None
    work: bool = False
    wheel_m: float | None = None

    def addresses_on(self, host: str) -> frozenset[str]:
        """Return what `host` calls it."""
        return frozenset(
            address_key(known.address) for known in self.addresses if known.host == host
        )


Registry = tuple[Remembered, ...]


def measuring_work(registry: Registry) -> frozenset[str]:
    """Return the ids of those that measure work, or arterial saturation."""
    return frozenset(one.sensor for one in registry if one.work)


@dataclass(frozen=True, slots=True)
class Seen:
    """A device nearby, and when it was heard."""

    sighting: Sighting
    first_ns: int
    last_ns: int


@dataclass(frozen=True, slots=True)
class Found:
    """The one that is looked for; `by_name` if the address is new here."""

    sighting: Sighting
    by_name: bool


@dataclass(frozen=True, slots=True)
class Ambiguous:
    """It may be one of these, or none; a person has to say."""

    candidates: tuple[Sighting, ...]
    rivals: tuple[str, ...]  #: other remembered sensors that carry the same name


Match = Found | Ambiguous | None


def find(
    sensor: Remembered,
    registry: Registry,
    host: str,
    nearby: Iterable[Seen],
    *,
    now_ns: int,
    since_ns: int,
) -> Match:
    """Return the sighting of `sensor`, or None if it is not there or it is too early to say.

    Only devices heard since `since_ns` can be opened.
    """
    known = sensor.addresses_on(host)
    present = [seen for seen in nearby if now_ns - seen.last_ns <= NEARBY_NS]
    for seen in present:
        if address_key(seen.sighting.address) in known and seen.last_ns >= since_ns:
            return Found(seen.sighting, by_name=False)
    candidates = _by_name(sensor, registry, host, present)
    settled = any(now_ns - seen.first_ns >= SETTLE_NS for seen in candidates)
    if not settled or not any(seen.last_ns >= since_ns for seen in candidates):
        return None
    rivals = tuple(
        other.sensor
        for other in registry
        if other.sensor != sensor.sensor and other.advertised_name == sensor.advertised_name
    )
    if rivals or len(candidates) > 1 or not _name_is_enough(sensor, known):
        return Ambiguous(tuple(seen.sighting for seen in candidates), rivals)
    return Found(candidates[0].sighting, by_name=True)


def _name_is_enough(sensor: Remembered, known: frozenset[str]) -> bool:
    """Say whether a device that alone carries the name may be opened; see the top."""
    changes_address = len(known) > 1
    return not sensor.addresses or sensor.serial is not None or changes_address


def learned(registry: Registry, sensor: str, address: HostAddress) -> Registry:
    """Return the registry with an address added to `sensor`, and taken from any other."""
    return tuple(_with_address(known, address, own=known.sensor == sensor) for known in registry)


def _with_address(known: Remembered, address: HostAddress, *, own: bool) -> Remembered:
    others = tuple(one for one in known.addresses if one != address)
    addresses = (*others, address) if own else others
    return replace(known, addresses=addresses[-MOST_ADDRESSES:])


def owner(registry: Registry, host: str, address: str) -> Remembered | None:
    """Return the remembered sensor that `host` calls so."""
    for known in registry:
        if address_key(address) in known.addresses_on(host):
            return known
    return None


def _by_name(sensor: Remembered, registry: Registry, host: str, present: list[Seen]) -> list[Seen]:
    """Return devices of the sensor's name whose address is not known to be anybody's."""
    if sensor.advertised_name is None:
        return []
    namesakes = [seen for seen in present if seen.sighting.name == sensor.advertised_name]
    if not namesakes:
        return []
    taken = frozenset[str]().union(*(other.addresses_on(host) for other in registry))
    return [seen for seen in namesakes if address_key(seen.sighting.address) not in taken]


def address_key(address: str) -> str:
    """Addresses and macOS UUIDs are written in either case."""
    return address.casefold()
