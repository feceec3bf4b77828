"""amqtt, reached through the door of a share only: the one file that imports it.

What amqtt 0.12 can't do, or does otherwise than its plug-ins could change, the door does before it
(read and tried with 0.12.1):

* it has no time limit for a first message, none for a message's length, and no rate;
* a keep-alive that runs out ends nothing (`BrokerProtocolHandler.handle_read_timeout`);
* a new client is sent what was retained for everybody else's subscriptions, past all topic rules
  (`_handle_client_session`), and a topic plug-in makes it pause while it iterates over a dict that
  others change (`_run_broadcast`). So nothing is retained in it, and no topic plug-in is loaded;
* a clean session taken over by a second connection goes on living, and leaves its will later. So
  it never sees the same client id twice.

It has no socket: readers and writers are handed to it (`external_connected`).
"""

import asyncio
import ssl
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from typing import Final

from amqtt.adapters import ReaderAdapter, WriterAdapter
from amqtt.broker import Broker
from amqtt.plugins.base import BaseAuthPlugin
from amqtt.session import Session

_LISTENER: Final = "default"
_CONFIGURATION: Final = {
    "listeners": {_LISTENER: {"type": "external", "bind": "nowhere"}},
    "plugins": {f"{__name__}.ThroughTheDoor": {}},
}


class ThroughTheDoor(BaseAuthPlugin):  # type: ignore[misc] # amqtt has no types; it wants a subclass
    """Lets in whoever the door let in; there is no other way here."""

    async def authenticate(self, *, session: Session) -> bool:
        """Say yes."""
        return session.username is None


class Inflow(ReaderAdapter):  # type: ignore[misc] # amqtt has no types; it wants a subclass
    """What a client says, fed packet by packet."""

    def __init__(self) -> None:
        self._stream = asyncio.StreamReader()

    def feed(self, packet: bytes) -> None:
        """Take a packet that passed the door."""
        self._stream.feed_data(packet)

    def feed_eof(self) -> None:
        """Say that no more comes."""
        self._stream.feed_eof()

    async def read(self, n: int = -1) -> bytes:
        """Return exactly `n` bytes, or fewer at the end."""
        if n < 0:
            return await self._stream.read()
        try:
            return await self._stream.readexactly(n)
        except asyncio.IncompleteReadError as end:
            return end.partial


class Outflow(WriterAdapter):  # type: ignore[misc] # amqtt has no types; it wants a subclass
    """What a client is told; `tell` gets whole packets."""

    def __init__(self, writer: asyncio.StreamWriter, tell: Callable[[bytes], None]) -> None:
        self._writer = writer
        self._tell = tell

    def write(self, data: bytes) -> None:
        """Pass a packet on."""
        self._tell(bytes(data))

    async def drain(self) -> None:
        """Wait while the client is slow to take it."""
        await self._writer.drain()

    def get_peer_info(self) -> tuple[str, int]:
        """Return nobody's address; the door keeps that to itself."""
        return "through the door", 0

    def get_ssl_info(self) -> ssl.SSLObject | None:
        """Return nothing; the door speaks TLS."""
        return None

    async def close(self) -> None:
        """Leave the socket to the door."""


class Switch:
    """Takes connections in; made by `switch`."""

    def __init__(self, broker: Broker) -> None:
        self._broker = broker

    async def carry(self, inflow: Inflow, outflow: Outflow) -> None:
        """Serve one client until its session ends."""
        await self._broker.external_connected(inflow, outflow, _LISTENER)


@asynccontextmanager
async def switch() -> AsyncIterator[Switch]:
    """Run a broker."""
    broker = Broker(_CONFIGURATION)
    await broker.start()
    try:
        yield Switch(broker)
    finally:
        await broker.shutdown()
