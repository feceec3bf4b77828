"""A share on loopback with the product's rules and shorter waits, and clients of it."""

import asyncio
import time
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager, suppress
from dataclasses import dataclass, field
from ipaddress import ip_address

from net_gym import GROUP, Entrance, HubMachine, RelayMachine

from livemon.net.address import BrokerAddress
from livemon.net.broker import Broker, Will
from livemon.net.mqtt import MqttBroker, Patience
from livemon.net.share_limits import ShareLimits
from livemon.net.share_listen import listen
from livemon.net.share_refusals import Refusal, RefusalLog
from livemon.net.share_rules import Keys, password_of
from livemon.net.share_run import Entrance as Socket
from livemon.net.share_run import run_share

LIMITS = ShareLimits(
    relays=3,
    names=5,
    waiting=8,
    hello_s=0.3,
    wrong_code_s=0.01,
    messages_per_s=400,
    bytes_per_s=4_000_000,
    farewell_s=0.5,
)
KEYS = Keys(GROUP, "K7QM3XHD", "a key that no person ever sees")
PATIENCE = Patience(within_s=2.0, keep_alive_s=10)
#: Of those who are cut off: the client library waits so long for an answer that can't come.
BRIEF = Patience(within_s=0.3, keep_alive_s=10)


@dataclass
class Gym:
    """A running share."""

    port: int
    log: RefusalLog = field(default_factory=RefusalLog)
    machines: list[HubMachine | RelayMachine] = field(default_factory=list)

    def broker(
        self,
        user: str | None,
        password: str | None = KEYS.secret,
        *,
        will: Will | None = None,
        patience: Patience = BRIEF,
    ) -> MqttBroker:
        """A way in with these credentials."""
        given = None if user is None else password
        address = BrokerAddress("127.0.0.1", self.port, False, GROUP, user, given)
        return MqttBroker(address, f"livemon-{user}", will=will, patience=patience)

    def entrance(self, token: str = "own") -> Entrance:
        def enter(identifier: str, will: Will | None) -> Broker:
            if identifier.startswith("hub"):
                return self.broker("hub", KEYS.hub_key, patience=PATIENCE)
            name = identifier.removeprefix("relay-")
            password = password_of(KEYS.secret, token)
            return self.broker(name, password, will=will, patience=PATIENCE)

        return enter

    def hub(self) -> HubMachine:
        return self._started(HubMachine(self.entrance(), time.monotonic_ns, soon))

    def relay(self, name: str, token: str = "own") -> RelayMachine:
        machine = RelayMachine(name, self.entrance(token), time.monotonic_ns, soon)
        return self._started(machine)

    async def healthy(self) -> tuple[HubMachine, RelayMachine]:
        """A hub and relay r0, connected."""
        hub, relay = self.hub(), self.relay("r0")
        await until(lambda: hub.there == {"r0": True})
        return hub, relay

    async def connect(self) -> tuple[asyncio.StreamReader, asyncio.StreamWriter]:
        """A bare connection."""
        return await asyncio.open_connection("127.0.0.1", self.port)

    async def refused(self, refusal: Refusal, times: int = 1) -> None:
        """Wait until that was refused."""
        await until(lambda: self.log.counts[refusal] >= times)

    def _started(self, machine):
        machine.start()
        self.machines.append(machine)
        return machine


async def soon(wait_s: float) -> None:
    """Wait as the product does between attempts, only shorter."""
    await asyncio.sleep(wait_s / 200)


async def until(claim: Callable[[], bool]) -> None:
    async with asyncio.timeout(10):
        while not claim():  # noqa: ASYNC110 - sockets are part of it
            await asyncio.sleep(0.005)


def write(machine: RelayMachine, count: int) -> None:
    for _ in range(count):
        number = sum(map(len, machine.disk.values())) + 1
        machine.write(f'{{"{machine.name}":{number}}}'.encode())


async def unharmed(hub: HubMachine, relay: RelayMachine) -> None:
    """Check that lines go through, and that neither side lost its connection."""
    write(relay, 20)
    await until(lambda: hub.has_all_of(relay))
    assert hub.told == [""]
    assert relay.told == [""]
    assert hub.there["r0"]


@asynccontextmanager
async def sharing(limits: ShareLimits = LIMITS) -> AsyncIterator[Gym]:
    listening = listen(ip_address("127.0.0.1"), 0)
    gym = Gym(listening.getsockname()[1])
    share = asyncio.create_task(run_share(KEYS, (Socket(listening, None),), gym.log, limits=limits))
    try:
        yield gym
        await asyncio.gather(*(machine.stop() for machine in gym.machines))
        assert not share.done(), "the share ended by itself"
    finally:
        share.cancel()
        with suppress(asyncio.CancelledError):
            await share
