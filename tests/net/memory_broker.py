"""A broker in memory: topics, retained messages, wills; it can lose, cut and restart.

It does what MQTT 3.1.1 asks with a clean session, so whatever is on its way when a connection ends
is gone, also at quality of service 1.
"""

import asyncio
from collections.abc import AsyncIterator, Iterable
from contextlib import asynccontextmanager
from random import Random

from livemon.net.broker import Arrival, Connection, Will
from livemon.net.trouble import BrokerLost


def matches(topic_filter: str, topic: str) -> bool:
    """Match filters without '#' (MQTT 3.1.1, 4.7.1.3)."""
    levels, names = topic_filter.split("/"), topic.split("/")
    return len(levels) == len(names) and all(
        level in {"+", name} for level, name in zip(levels, names, strict=True)
    )


class MemoryConnection:
    def __init__(self, broker: "MemoryBroker", will: Will | None) -> None:
        self.will = will
        self.open = True
        self._broker = broker
        self._filters: list[str] = []
        self._waiting: asyncio.Queue[Arrival | None] = asyncio.Queue()

    async def publish(self, topic: str, payload: bytes, *, qos: int, retain: bool = False) -> None:
        await asyncio.sleep(self._broker.delay_s)
        if not self.open:
            raise BrokerLost("the connection ended")
        self._broker.published(topic, payload, qos=qos, retain=retain)

    async def subscribe(self, filters: Iterable[tuple[str, int]]) -> None:
        if not self.open:
            raise BrokerLost("the connection ended")
        self._filters = [topic_filter for topic_filter, _ in filters]
        for topic, payload in self._broker.retained.items():
            self.deliver(Arrival(topic, payload, retained=True))

    async def arrivals(self) -> AsyncIterator[Arrival]:
        while (arrival := await self._waiting.get()) is not None:
            yield arrival
        raise BrokerLost("the connection ended")

    def deliver(self, arrival: Arrival) -> None:
        if any(matches(topic_filter, arrival.topic) for topic_filter in self._filters):
            self._waiting.put_nowait(arrival)

    def cut(self) -> None:
        self.open = False
        while not self._waiting.empty():
            self._waiting.get_nowait()
        self._waiting.put_nowait(None)


class MemoryBroker:
    def __init__(self, chance: Random | None = None) -> None:
        self.retained: dict[str, bytes] = {}
        self.up = True
        self.lose = 0.0  #: share of messages lost at quality of service 0
        self.delay_s = 0.001
        self.log: list[tuple[str, bytes]] = []
        self._chance = chance or Random(0)
        self._clients: dict[str, MemoryConnection] = {}

    def published(self, topic: str, payload: bytes, *, qos: int, retain: bool = False) -> None:
        self.log.append((topic, payload))
        if retain:
            self.retained[topic] = payload
        if qos == 0 and self._chance.random() < self.lose:
            return
        for client in self._clients.values():
            client.deliver(Arrival(topic, payload, retained=False))

    def cut(self, identifier: str) -> None:
        """End one connection without a word, and let its will be known."""
        if client := self._clients.pop(identifier, None):
            client.cut()
            if client.will is not None:
                self.published(client.will.topic, client.will.payload, qos=1, retain=True)

    def restart(self, *, forgets: bool) -> None:
        """End all connections; a broker without a store forgets what it retained."""
        for client in self._clients.values():
            client.cut()
        self._clients.clear()
        if forgets:
            self.retained.clear()

    def door(self, identifier: str, will: Will | None = None) -> "Door":
        return Door(self, identifier, will)

    def enter(self, identifier: str, will: Will | None) -> MemoryConnection:
        if not self.up:
            raise BrokerLost("the broker is down")
        self.cut(identifier)
        self._clients[identifier] = MemoryConnection(self, will)
        return self._clients[identifier]

    def leave(self, identifier: str, connection: MemoryConnection) -> None:
        if self._clients.get(identifier) is connection:
            del self._clients[identifier]
            connection.cut()


class Door:
    """The broker as one client sees it."""

    def __init__(self, broker: MemoryBroker, identifier: str, will: Will | None) -> None:
        self._broker = broker
        self._identifier = identifier
        self._will = will

    @asynccontextmanager
    async def connection(self) -> AsyncIterator[Connection]:
        await asyncio.sleep(self._broker.delay_s)
        connection = self._broker.enter(self._identifier, self._will)
        try:
            yield connection
        finally:
            self._broker.leave(self._identifier, connection)
