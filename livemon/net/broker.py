"""What relay and hub need of a broker, and nothing more. Nothing here knows MQTT's packets."""

from collections.abc import AsyncIterator, Iterable
from contextlib import AbstractAsyncContextManager
from dataclasses import dataclass
from typing import Protocol


@dataclass(frozen=True, slots=True)
class Arrival:
    """A message that came.

    Attributes:
        retained: it was published before we subscribed, nobody knows when.
    """

    topic: str
    payload: bytes
    retained: bool


@dataclass(frozen=True, slots=True)
class Will:
    """What the broker publishes, retained, when we are gone without a word."""

    topic: str
    payload: bytes


class Connection(Protocol):
    """An open connection. All raise `BrokerLost` when it ends."""

    async def publish(self, topic: str, payload: bytes, *, qos: int, retain: bool = False) -> None:
        """Hand a message to the broker; with `qos` 1, until the broker has it."""

    async def subscribe(self, filters: Iterable[tuple[str, int]]) -> None:
        """Ask for messages, by pairs of topic filter and quality of service."""

    def arrivals(self) -> AsyncIterator[Arrival]:
        """Yield what comes, in order."""


class Broker(Protocol):
    """Somewhere to connect to, again and again."""

    def connection(self) -> AbstractAsyncContextManager[Connection]:
        """Open a connection.

        Raises:
            BrokerLost: not this time, or it ended inside.
            UsageError: the broker refuses us; the message says why and what to do.
        """
