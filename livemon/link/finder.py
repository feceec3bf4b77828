"""Wait for the sighting of a sensor, and keep the registry of who is who up to date.

One for all sensors: it takes down each device heard and asks `identity` which of them is meant. It
neither scans nor opens anything.
"""

import asyncio
from collections.abc import Callable
from dataclasses import replace
from typing import Final

from livemon.errors import LinkLost
from livemon.link.identity import (
    Ambiguous,
    Found,
    HostAddress,
    Registry,
    Remembered,
    address_key,
    find,
    learned,
)
from livemon.link.nearby import Nearby
from livemon.link.radio import Sighting
from livemon.link.status import LinkState
from livemon.link.tally import Tally

#: How often to look again although nothing new was heard: a name has to stand alone for a while.
_LOOK_AGAIN_S: Final = 0.5


class Finder:
    """Finds sensors among what is heard.

    Args:
        host: id of this computer.
        on_learned: called with the new registry when something was learned.
    """

    def __init__(
        self,
        registry: Registry,
        host: str,
        *,
        now_ns: Callable[[], int],
        on_learned: Callable[[Registry], None],
    ) -> None:
        self.host = host
        self.nearby = Nearby()
        self._take(registry)
        self._now_ns = now_ns
        self._on_learned = on_learned
        self._waiting: dict[str, asyncio.Event] = {}
        self._others: set[tuple[str, str]] = set()  # sensor, and an address that is not it

    def heard(self, sighting: Sighting) -> None:
        """Take down one sighting, and wake whoever may have waited for it."""
        self.nearby.heard(self._now_ns(), sighting)
        known = self._owners.get(address_key(sighting.address))
        for sensor, event in self._waiting.items():
            if known is None or known == sensor:
                event.set()

    async def find(self, sensor: str, tally: Tally) -> Found:
        """Wait until `sensor` is heard; meanwhile `tally` says how the search goes."""
        since_ns = self._now_ns()
        self._waiting[sensor] = event = asyncio.Event()
        try:
            while True:
                event.clear()
                match self._look(sensor, since_ns):
                    case Found() as found:
                        tally.candidates = ()
                        return found
                    case Ambiguous() as several:
                        tally.candidates = several.candidates
                        tally.to(LinkState.ASKING, self._now_ns())
                    case None:
                        tally.candidates = ()
                        tally.to(LinkState.SEARCHING, self._now_ns())
                await _at_most(event, _LOOK_AGAIN_S)
        finally:
            del self._waiting[sensor]

    def learn(self, sensor: str, address: str) -> None:
        """Remember that `address` is `sensor`, because its data come, or because a person says."""
        if self._owners.get(address_key(address)) == sensor:
            return
        self._others.discard((sensor, address))
        self._replace(learned(self.registry, sensor, HostAddress(self.host, address)))

    def rule_out(self, sensor: str, address: str) -> None:
        """Take it from now on that `address` is not `sensor`."""
        self._others.add((sensor, address))

    def wants_serial(self, sensor: str, found: Found) -> bool:
        """Say whether the serial number is worth a read."""
        return found.by_name or self.remembered(sensor).serial is None

    def check(self, sensor: str, found: Found, serial: str | None) -> None:
        """Compare the serial number of a device that only its name spoke for, or learn it.

        Raises:
            LinkLost: it is another device; it will not be tried again.
        """
        remembered = self.remembered(sensor)
        if remembered.serial is None:
            if serial is not None:
                known = replace(remembered, serial=serial)
                self._replace(tuple(known if r is remembered else r for r in self.registry))
            return
        if found.by_name and serial != remembered.serial:
            self.rule_out(sensor, found.sighting.address)
            raise LinkLost("a device of the same name is nearby, but its serial number differs")

    def remember(self, remembered: Remembered) -> None:
        """Add a sensor to the registry, or replace what is known of it."""
        others = tuple(r for r in self.registry if r.sensor != remembered.sensor)
        self._replace((*others, remembered))

    def remembered(self, sensor: str) -> Remembered:
        """Return what is known of `sensor`."""
        return next(r for r in self.registry if r.sensor == sensor)

    def _look(self, sensor: str, since_ns: int) -> Found | Ambiguous | None:
        now_ns = self._now_ns()
        nearby = [
            seen
            for seen in self.nearby.at(now_ns)
            if (sensor, seen.sighting.address) not in self._others
        ]
        remembered = self.remembered(sensor)
        return find(remembered, self.registry, self.host, nearby, now_ns=now_ns, since_ns=since_ns)

    def _replace(self, registry: Registry) -> None:
        self._take(registry)
        self._on_learned(registry)

    def _take(self, registry: Registry) -> None:
        self.registry = registry
        # Looked up for each advertisement of each device around, so kept ready.
        self._owners = {
            address: known.sensor for known in registry for address in known.addresses_on(self.host)
        }


async def _at_most(event: asyncio.Event, wait_s: float) -> None:
    try:
        async with asyncio.timeout(wait_s):
            await event.wait()
    except TimeoutError:
        return
