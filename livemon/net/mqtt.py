"""The broker, through aiomqtt: the only file that imports it.

Each connection is a new client, because one that timed out is not to be trusted. MQTT 3.1.1 and a
clean session: a live monitor never wants what a broker kept back, and every broker speaks it.
"""

import asyncio
import socket
import ssl
from collections.abc import AsyncIterator, Iterable, Iterator
from contextlib import asynccontextmanager, contextmanager
from dataclasses import dataclass
from typing import Final

import aiomqtt
from paho.mqtt.reasoncodes import ReasonCode

from livemon.errors import UsageError
from livemon.net.address import BrokerAddress
from livemon.net.broker import Arrival, Connection, Will
from livemon.net.certificates import certificate_trouble
from livemon.net.trouble import BrokerLost

#: Some seconds of a full house. What is beyond is dropped, and filled in from the recordings.
_MOST_WAITING: Final = 2_000

#: Reason codes of MQTT 5 (2.4), to which the client library also translates 3.1.1's return codes.
_REFUSALS: Final = {
    0x84: "speaks another version of MQTT; 3.1.1 is needed",
    0x85: "does not accept this client's id; choose another name for the relay",
    0x86: "does not know this user name or password",
    0x87: "does not let us in; check the user name and its rights",
    0x8A: "has banned this client",
}


@dataclass(frozen=True, slots=True)
class Patience:
    """How long a broker may be silent.

    Attributes:
        within_s: for any single exchange; on a local network it takes milliseconds.
        keep_alive_s: a broker that says nothing for one and a half times this long is given up,
            and gives us up (MQTT 3.1.1, 3.1.2.10).
    """

    within_s: float = 5.0
    keep_alive_s: int = 10


class MqttBroker:
    """A broker at an address.

    Args:
        identifier: ours, the same at every start: a second connection with it ends the first, and
            its will with it.
        trust: what vouches for the broker's certificate; needed for an address with TLS.
        patience: how long to wait for a broker that does not answer.
    """

    def __init__(
        self,
        address: BrokerAddress,
        identifier: str,
        *,
        will: Will | None = None,
        trust: ssl.SSLContext | None = None,
        patience: Patience = Patience(),
    ) -> None:
        self._address = address
        self._identifier = identifier
        self._will = (
            None if will is None else aiomqtt.Will(will.topic, will.payload, qos=1, retain=True)
        )
        self._trust = trust if address.tls else None
        self._patience = patience

    @asynccontextmanager
    async def connection(self) -> AsyncIterator[Connection]:
        """Open a connection; see `Broker`."""
        check_loop(asyncio.get_running_loop())
        await self._check_certificate()
        address = self._address
        client = aiomqtt.Client(
            address.host,
            address.port,
            username=address.user,
            password=address.password,
            identifier=self._identifier,
            clean_session=True,
            will=self._will,
            timeout=self._patience.within_s,
            keepalive=self._patience.keep_alive_s,
            max_queued_incoming_messages=_MOST_WAITING,
            tls_context=self._trust,
        )
        try:
            async with client:
                yield MqttConnection(client)
        except aiomqtt.MqttError as error:
            code = _reason_code(error)
            if code in _REFUSALS:
                raise UsageError(f"{self._where} {_REFUSALS[code]}") from error
            raise BrokerLost(f"{self._where}: {error}") from error
        finally:
            _look_at_its_end(client)

    async def _check_certificate(self) -> None:
        """Look before the library does, which would only tell that the connection failed."""
        if self._trust is None:
            return
        trouble = await certificate_trouble(self._address.host, self._address.port, self._trust)
        if trouble is not None:
            raise UsageError(f"{self._where} {trouble}")

    @property
    def _where(self) -> str:
        return f"the broker at {self._address.host}:{self._address.port}"


class MqttConnection:
    """An open connection; made by `MqttBroker`."""

    def __init__(self, client: aiomqtt.Client) -> None:
        self._client = client

    async def publish(self, topic: str, payload: bytes, *, qos: int, retain: bool = False) -> None:
        """Hand a message to the broker; see `Connection`."""
        with _ending():
            await self._client.publish(topic, payload, qos=qos, retain=retain)

    async def subscribe(self, filters: Iterable[tuple[str, int]]) -> None:
        """Ask for messages; see `Connection`."""
        with _ending():
            await self._client.subscribe(list(filters))

    async def arrivals(self) -> AsyncIterator[Arrival]:
        """Yield what comes; see `Connection`."""
        with _ending():
            async for message in self._client.messages:
                payload = message.payload
                if isinstance(payload, bytes):
                    yield Arrival(str(message.topic), payload, message.retain)


@contextmanager
def _ending() -> Iterator[None]:
    try:
        yield
    except aiomqtt.MqttError as error:
        raise BrokerLost(f"the connection to the broker ended: {error}") from error


def _reason_code(error: aiomqtt.MqttError) -> int | None:
    code = error.rc if isinstance(error, aiomqtt.MqttCodeError) else None
    return code.value if isinstance(code, ReasonCode) else code


def _look_at_its_end(client: aiomqtt.Client) -> None:
    """Keep asyncio from reporting an end that we have been told of in another way.

    There is no public way to it; without the attribute there is nothing to be looked at.
    """
    end: asyncio.Future[None] | None = getattr(client, "_disconnected", None)
    if end is not None and end.done() and not end.cancelled():
        end.exception()


def check_loop(loop: asyncio.AbstractEventLoop) -> None:
    """Refuse a loop that can't watch sockets, as Windows' default is; else nothing would ever come.

    Raises:
        UsageError: it says which loop to use.
    """
    with socket.socket() as probe:
        try:
            loop.remove_reader(probe)
        except NotImplementedError:
            raise UsageError(
                f"MQTT can't work on a {type(loop).__name__}; run it by"
                " asyncio.Runner(loop_factory=asyncio.SelectorEventLoop)"
            ) from None
