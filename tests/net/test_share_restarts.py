"""A share that is started anew again and again behind a cable that is cut: every line once.

The share is the product's own (`livemon.app.share`): a thread, a broker and a code of its own each
time. Relays join anew with the new code, as people do at the hub's screen.
"""

import asyncio
import socket
import time
from contextlib import AbstractAsyncContextManager
from pathlib import Path
from random import Random

import pytest
from cable import Cable, Proxy, proxied
from net_gym import GROUP, Entrance, HubMachine, RelayMachine
from share_gym import LIMITS, PATIENCE, soon, until, write

pytest.importorskip("amqtt", reason="the extra `share`")

from livemon.app.share import Share, open_share
from livemon.app.share_options import ShareWish
from livemon.net.address import BrokerAddress
from livemon.net.broker import Broker, Connection, Will
from livemon.net.mqtt import MqttBroker
from livemon.net.share_rules import password_of

RESTARTS = 3
CUTS_BETWEEN = 3


class Hall:
    """The share that runs now, and the cable to it."""

    def __init__(self, port: int, proxy: Proxy) -> None:
        self.wish, self.proxy = ShareWish(port=port), proxy
        self.share = self._opened()
        self.codes = {self.share.code}

    def _opened(self) -> Share:
        return open_share(self.wish, Path("/nowhere"), GROUP, LIMITS)

    async def restart(self) -> None:
        """End it and start it anew; nobody gets through meanwhile."""
        self.proxy.cable = Cable.REFUSES
        await asyncio.to_thread(self.share.stop)
        assert self.share.failure is None
        self.share = await asyncio.to_thread(self._opened)
        self.codes.add(self.share.code)
        self.proxy.cable = Cable.GOOD

    def entrance(self) -> Entrance:
        return lambda identifier, will: Rejoining(self, identifier, will)


class Rejoining:
    """Enters by the code that is on the screen by then."""

    def __init__(self, hall: Hall, identifier: str, will: Will | None) -> None:
        self._hall, self._identifier, self._will = hall, identifier, will

    def connection(self) -> AbstractAsyncContextManager[Connection]:
        share = self._hall.share
        user, password = "hub", share.address.password
        if self._identifier != "hub":
            user = self._identifier.removeprefix("relay-")
            password = password_of(share.invitation.code.secret, f"token of {user}")
        address = BrokerAddress("127.0.0.1", self._hall.proxy.port, False, GROUP, user, password)
        broker: Broker = MqttBroker(address, self._identifier, will=self._will, patience=PATIENCE)
        return broker.connection()


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


async def cut_again_and_again(proxy: Proxy, relays: list[RelayMachine], chance: Random) -> None:
    until_cuts = proxy.cuts + CUTS_BETWEEN
    async with asyncio.timeout(10):
        while proxy.cuts < until_cuts:
            if proxy.cut_after is None:
                proxy.cut_after = chance.randint(1, 3000)
            for relay in relays:
                write(relay, 5)
            await asyncio.sleep(0.005)
    proxy.cut_after = None


@pytest.mark.parametrize("seed", [1, 2])
async def test_restarts_and_cuts_lose_and_double_nothing(seed: int) -> None:
    port, chance = free_port(), Random(seed)
    async with proxied(port) as proxy:
        hall = Hall(port, proxy)
        try:
            hub = HubMachine(hall.entrance(), time.monotonic_ns, soon)
            relays = [
                RelayMachine(f"r{number}", hall.entrance(), time.monotonic_ns, soon)
                for number in range(2)
            ]
            for machine in (hub, *relays):
                machine.start()
            await until(lambda: len(hub.there) == 2)
            for _ in range(RESTARTS):
                await cut_again_and_again(proxy, relays, chance)
                await hall.restart()
                for relay in relays:
                    write(relay, 20)
            await until(lambda: all(hub.has_all_of(relay) for relay in relays))

            assert len(hall.codes) == RESTARTS + 1
            for relay in relays:
                written = relay.disk[f"{relay.name}-run-1"]
                shown = [written.index(line) for line in hub.shown_of(relay)]
                assert shown == sorted(set(shown))
            assert not hall.share.refused
            for machine in (hub, *relays):
                await machine.stop()
        finally:
            await asyncio.to_thread(hall.share.stop)
