"""Finding each other on a local network: a hub says that it is there, if it was told to.

What is said is an address, a port and a version: no name of a person, place or computer. It proves
nothing; whether this is the hub that is meant shows its certificate (share_pin.py). RFC 6763.
"""

import asyncio
from collections.abc import AsyncGenerator, AsyncIterator
from contextlib import asynccontextmanager
from ipaddress import IPv4Address, IPv6Address, ip_address
from typing import Final

from zeroconf import InterfaceChoice, ServiceStateChange, Zeroconf
from zeroconf.asyncio import AsyncServiceBrowser, AsyncServiceInfo, AsyncZeroconf

SERVICE: Final = "_livemon._tcp.local."
_VERSION: Final = {"v": "1"}
_ASK_MS: Final = 2_000

Place = tuple[IPv4Address | IPv6Address, int]


@asynccontextmanager
async def announced(host: IPv4Address | IPv6Address, port: int, token: str) -> AsyncIterator[None]:
    """Say on the network of `host` that a hub is there; `token` tells this start from others.

    Raises:
        OSError: the network takes no announcements.
    """
    information = AsyncServiceInfo(
        SERVICE,
        f"hub-{token}.{SERVICE}",
        port=port,
        server=f"livemon-{token}.local.",
        parsed_addresses=[str(host)],
        properties=_VERSION,
    )
    async with AsyncZeroconf(interfaces=[str(host)]) as network:
        saying = await network.async_register_service(information)
        await saying
        yield


async def hubs_nearby(within_s: float, on: str | None = None) -> AsyncGenerator[Place, None]:
    """Yield where hubs say that they are, each once, as they answer; `on` names one network.

    Raises:
        OSError: the network can't be asked.
    """
    seen: set[Place] = set()
    async with _answering(on) as (network, names):
        try:
            async with asyncio.timeout(within_s):
                while True:
                    places = await _places_of(network, await names.get())
                    for place in [place for place in places if place not in seen]:
                        seen.add(place)
                        yield place
        except TimeoutError:
            return


@asynccontextmanager
async def _answering(on: str | None) -> AsyncIterator[tuple[Zeroconf, asyncio.Queue[str]]]:
    """Ask around; give the network, and the names of hubs as they are heard."""
    names: asyncio.Queue[str] = asyncio.Queue()

    def heard(zeroconf: Zeroconf, service_type: str, name: str, state_change: object) -> None:
        if state_change is ServiceStateChange.Added:
            names.put_nowait(name)

    interfaces = InterfaceChoice.All if on is None else [on]
    async with AsyncZeroconf(interfaces=interfaces) as network:
        browser = AsyncServiceBrowser(network.zeroconf, SERVICE, handlers=[heard])
        try:
            yield network.zeroconf, names
        finally:
            await browser.async_cancel()


async def _places_of(network: Zeroconf, name: str) -> list[Place]:
    information = AsyncServiceInfo(SERVICE, name)
    if not await information.async_request(network, _ASK_MS) or not information.port:
        return []
    return [(ip_address(text), information.port) for text in information.parsed_addresses()]
