"""What is in the air: every device heard lately, what it looks like, and whether we know it.

Not every sensor says in its advertisement what it is, so nothing is left out: what looks useful
comes first, the rest on request.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from livemon.link.identity import NEARBY_NS, Registry, Seen, owner
from livemon.link.radio import Sighting

#: Phones around change their addresses all the time; beyond this many, old ones are let go.
_MANY: Final = 1000


class Nearby:
    """Remember each device heard, and when."""

    def __init__(self) -> None:
        self._seen: dict[str, Seen] = {}

    def heard(self, t_ns: int, sighting: Sighting) -> None:
        """Take down one sighting; a name once heard stays when later packets leave it out."""
        if len(self._seen) > _MANY:
            self.at(t_ns)
        before = self._seen.get(sighting.address)
        if before is None or t_ns - before.last_ns > NEARBY_NS:
            self._seen[sighting.address] = Seen(sighting, t_ns, t_ns)
            return
        merged = Sighting(
            sighting.address,
            sighting.name or before.sighting.name,
            before.sighting.rssi_dbm if sighting.rssi_dbm is None else sighting.rssi_dbm,
            sighting.services | before.sighting.services,
            sighting.device,
        )
        self._seen[sighting.address] = Seen(merged, before.first_ns, t_ns)

    def at(self, t_ns: int) -> tuple[Seen, ...]:
        """Return what has been heard lately, and forget the rest."""
        self._seen = {
            address: seen
            for address, seen in self._seen.items()
            if t_ns - seen.last_ns <= NEARBY_NS
        }
        return tuple(self._seen.values())


@dataclass(frozen=True, slots=True)
class NearbyDevice:
    """One line of the scan.

    Attributes:
        looks_like: what its advertisement says it is, in words; empty where it says nothing.
        sensor: our id of it, if this computer has met it before.
        held: this computer already holds a link to it.
    """

    address: str
    name: str | None
    rssi_dbm: int | None
    looks_like: tuple[str, ...]
    sensor: str | None
    held: bool

    @property
    def matches(self) -> bool:
        """It is remembered, or says that it is something we can read.

        Of links already held only those of our services are asked for, so they match too.
        """
        return self.sensor is not None or bool(self.looks_like) or self.held


def survey(
    seen: tuple[Seen, ...],
    registry: Registry,
    host: str,
    kinds: Mapping[str, str],
    *,
    everything: bool = False,
) -> tuple[NearbyDevice, ...]:
    """List the devices nearby, matching ones first, then the strongest.

    `kinds` maps service UUIDs to what they stand for, as in "heart rate strap"; `everything` also
    lists what does not look like a sensor of ours.
    """
    devices = [_device(one, registry, host, kinds) for one in seen]
    shown = [device for device in devices if everything or device.matches]
    return tuple(sorted(shown, key=_order))


def _device(seen: Seen, registry: Registry, host: str, kinds: Mapping[str, str]) -> NearbyDevice:
    sighting = seen.sighting
    known = owner(registry, host, sighting.address)
    return NearbyDevice(
        address=sighting.address,
        name=sighting.name,
        rssi_dbm=sighting.rssi_dbm,
        looks_like=tuple(what for uuid, what in kinds.items() if uuid in sighting.services),
        sensor=None if known is None else known.sensor,
        held=sighting.rssi_dbm is None,
    )


def _order(device: NearbyDevice) -> tuple[bool, int, str]:
    strength_dbm = -1000 if device.rssi_dbm is None else device.rssi_dbm
    return (not device.matches, -strength_dbm, device.address)
