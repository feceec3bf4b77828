"""Look around once: scan for a while by itself, for `livemon scan` and before a session begins."""

import asyncio
from collections.abc import Callable, Mapping

from livemon.link.identity import Registry
from livemon.link.nearby import Nearby, NearbyDevice, survey
from livemon.link.radio import Radio


async def look_around(
    radio: Radio,
    for_s: float,
    registry: Registry,
    host: str,
    kinds: Mapping[str, str],
    *,
    now_ns: Callable[[], int],
    everything: bool = False,
) -> tuple[NearbyDevice, ...]:
    """Scan for `for_s` seconds and list what was heard, and what this computer already holds.

    10 s catch nearly everything that advertises at the usual intervals; 20 s are sure.

    Raises:
        RadioError: Bluetooth can't be used; the message says what to do.
        LinkLost: the adapter was busy; worth another try.
    """
    nearby = Nearby()
    for sighting in await radio.held(frozenset(kinds)):
        nearby.heard(now_ns(), sighting)
    async with radio.scanning(lambda sighting: nearby.heard(now_ns(), sighting)):
        await asyncio.sleep(for_s)
    t_ns = now_ns()
    return survey(nearby.at(t_ns), registry, host, kinds, everything=everything)


async def check_radio(radio: Radio) -> None:
    """Start a scan and end it, to learn whether Bluetooth can be used at all.

    Raises:
        RadioError: it can't; the message says what to do.
        LinkLost: the adapter was busy; worth another try.
    """
    async with radio.scanning(lambda _: None):
        return
