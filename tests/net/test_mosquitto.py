"""The real broker: Mosquitto on loopback, with the configuration that the documents give.

Waits between attempts are shortened, and so is the patience with a silent broker; all else is as
in a gym.
"""

import asyncio
import time
from collections.abc import Callable
from random import Random

import pytest
from cable import Cable, proxied
from mosquitto_fixtures import Mosquitto, free_port
from net_gym import GROUP, Entrance, HubMachine, RelayMachine

from livemon.app.engine import Engine
from livemon.errors import UsageError
from livemon.net.address import BrokerAddress
from livemon.net.broker import Broker, Will
from livemon.net.mqtt import MqttBroker, Patience, check_loop
from livemon.net.topics import Leaf, Topic
from livemon.net.trouble import BrokerLost

PATIENCE = Patience(within_s=0.5, keep_alive_s=1)


async def soon(wait_s: float) -> None:
    """Wait as the product does between attempts, only shorter."""
    await asyncio.sleep(wait_s / 200)


def address(port: int, user: str | None, password: str | None = None) -> BrokerAddress:
    code = password or f"code of {user}"
    return BrokerAddress("127.0.0.1", port, False, GROUP, user, code if user else None)


def entrance(port: int) -> Entrance:
    """Each client logs in by its own id, as the documents say."""

    def enter(identifier: str, will: Will | None) -> Broker:
        user = identifier.removeprefix("relay-")
        return MqttBroker(address(port, user), identifier, will=will, patience=PATIENCE)

    return enter


def a_hall(port: int, relays: int) -> tuple[HubMachine, list[RelayMachine]]:
    hub = HubMachine(entrance(port), time.monotonic_ns, soon)
    machines = [
        RelayMachine(f"r{n}", entrance(port), time.monotonic_ns, soon) for n in range(relays)
    ]
    for machine in (hub, *machines):
        machine.start()
    return hub, machines


async def until(claim: Callable[[], bool]) -> None:
    async with asyncio.timeout(15):
        while not claim():  # noqa: ASYNC110 - other processes are part of it
            await asyncio.sleep(0.01)


async def stopped(hub: HubMachine, machines: list[RelayMachine]) -> None:
    await asyncio.gather(hub.stop(), *(machine.stop() for machine in machines))


async def publish(broker: Broker, topic: str, payload: bytes) -> None:
    async with broker.connection() as connection:
        await connection.publish(topic, payload, qos=1)


def write(machine: RelayMachine, count: int) -> None:
    for _ in range(count):
        number = sum(map(len, machine.disk.values())) + 1
        machine.write(f'{{"{machine.name}":{number}}}'.encode())


async def test_lines_of_several_relays_are_shown_and_kept(mosquitto: Mosquitto) -> None:
    hub, relays = a_hall(mosquitto.port, 3)
    await until(lambda: hub.there == {"r0": True, "r1": True, "r2": True})
    for _ in range(20):
        for relay in relays:
            write(relay, 10)
        await asyncio.sleep(0.01)
    await until(lambda: all(hub.has_all_of(relay) for relay in relays))

    for relay in relays:
        assert hub.shown_of(relay) == relay.disk[f"{relay.name}-run-1"]
    assert {source.relay: ns < 250_000_000 for source, ns, _ in hub.shown} == dict.fromkeys(
        ("r0", "r1", "r2"), True
    )
    await stopped(hub, relays)


@pytest.mark.parametrize(
    ("user", "password"),
    [
        pytest.param(None, None, id="no name"),
        pytest.param("r0", "wrong", id="wrong code"),
        pytest.param("nobody", "code of nobody", id="unknown name"),
    ],
)
async def test_who_may_not_come_in_is_told_so(mosquitto: Mosquitto, user, password) -> None:
    broker = MqttBroker(address(mosquitto.port, user, password), "relay-r0", patience=PATIENCE)

    with pytest.raises(UsageError, match="user name"):
        async with broker.connection():
            pytest.fail("it should have been refused")


async def test_a_relay_can_neither_speak_nor_listen_for_another(mosquitto: Mosquitto) -> None:
    hub, relays = a_hall(mosquitto.port, 1)
    await until(lambda: "r0" in hub.there)
    intruder = MqttBroker(address(mosquitto.port, "r1"), "relay-r1", patience=PATIENCE)

    async with intruder.connection() as connection:
        state = b'{"state":1,"session":"forged","there":true}'
        for leaf in (Leaf.STATE, Leaf.LIVE, Leaf.META):
            await connection.publish(str(Topic(GROUP, "r0", leaf)), state, qos=1, retain=True)
        await connection.publish(str(Topic(GROUP, "r1", Leaf.STATE)), state, qos=1)
        await until(lambda: "r1" in hub.there)

    assert {source.session for source in hub.disk if source.relay == "r0"} == {"r0-run-1"}
    assert hub.hub is not None
    assert not hub.hub.refusals.reasons
    await stopped(hub, relays)


async def test_a_broker_that_is_killed_and_comes_back_costs_nothing(mosquitto: Mosquitto) -> None:
    hub, relays = a_hall(mosquitto.port, 2)
    await until(lambda: hub.there == {"r0": True, "r1": True})
    for _ in range(10):
        for relay in relays:
            write(relay, 20)
        await asyncio.sleep(0.03)
        await mosquitto.kill()
        for relay in relays:
            write(relay, 20)
        await mosquitto.start()
    await until(lambda: all(hub.has_all_of(relay) for relay in relays))

    assert hub.there == {"r0": True, "r1": True}
    await stopped(hub, relays)


async def test_fifty_cuts_at_any_byte_lose_and_double_nothing(mosquitto: Mosquitto) -> None:
    chance = Random(3)
    async with proxied(mosquitto.port) as proxy:
        hub, relays = a_hall(proxy.port, 2)
        async with asyncio.timeout(15):
            while proxy.cuts < 50:
                if proxy.cut_after is None:
                    proxy.cut_after = chance.randint(1, 3000)
                for relay in relays:
                    write(relay, 5)
                await asyncio.sleep(0.005)
        proxy.cut_after = None
        await until(lambda: all(hub.has_all_of(relay) for relay in relays))

        for relay in relays:
            shown = [relay.disk[f"{relay.name}-run-1"].index(line) for line in hub.shown_of(relay)]
            assert shown == sorted(set(shown))
        await stopped(hub, relays)


@pytest.mark.parametrize("cable", [Cable.REFUSES, Cable.HANGS, Cable.HALF_OPEN])
async def test_a_bad_cable_is_noticed_and_survived(mosquitto: Mosquitto, cable: Cable) -> None:
    async with proxied(mosquitto.port) as proxy:
        hub, relays = a_hall(proxy.port, 1)
        (relay,) = relays
        await until(lambda: hub.there == {"r0": True})
        proxy.cable = cable
        if cable is not Cable.HALF_OPEN:
            proxy.cut_all()
        write(relay, 10)
        await until(lambda: relay.told[-1] != "")
        write(relay, 10)
        proxy.cable = Cable.GOOD
        await until(lambda: hub.has_all_of(relay))

        assert relay.told[-1] == ""
        await stopped(hub, relays)


async def test_no_broker_at_all_is_worth_another_try() -> None:
    port = free_port()
    broker = MqttBroker(address(port, "r0"), "relay-r0", patience=PATIENCE)

    with pytest.raises(BrokerLost, match=f"127.0.0.1:{port}"):
        async with broker.connection():
            pytest.fail("nobody listens there")


async def test_a_message_beyond_all_measure_costs_its_sender_the_connection_only(
    mosquitto: Mosquitto,
) -> None:
    hub, relays = a_hall(mosquitto.port, 1)
    await until(lambda: "r0" in hub.there)
    flooder = MqttBroker(address(mosquitto.port, "r1"), "relay-r1", patience=PATIENCE)

    with pytest.raises(BrokerLost):
        await publish(flooder, str(Topic(GROUP, "r1", Leaf.LIVE)), bytes(10_000_000))
    write(relays[0], 10)
    await until(lambda: hub.has_all_of(relays[0]))

    assert hub.told == [""]
    await stopped(hub, relays)


async def test_two_relays_with_one_id_are_told(mosquitto: Mosquitto) -> None:
    hub, relays = a_hall(mosquitto.port, 1)
    twin = RelayMachine("r0", entrance(mosquitto.port), time.monotonic_ns, soon)
    twin.start()

    await until(lambda: any("same name" in told for told in relays[0].told + twin.told))

    await stopped(hub, [*relays, twin])


class LoopWithoutSockets(asyncio.SelectorEventLoop):
    """As Windows' default loop is: it has no add_reader."""

    def remove_reader(self, fd: object) -> bool:
        raise NotImplementedError


def test_a_loop_that_cannot_watch_sockets_is_refused_in_words() -> None:
    loop = LoopWithoutSockets()
    with pytest.raises(UsageError, match="SelectorEventLoop"):
        check_loop(loop)
    loop.close()


async def test_the_programs_own_loop_is_one_that_can() -> None:
    """As the engine makes it on every system, Windows among them."""
    seen: list[bool] = []

    class Looks:
        latest = None

        async def run(self) -> None:
            loop = asyncio.get_running_loop()
            check_loop(loop)
            seen.append(isinstance(loop, asyncio.SelectorEventLoop))

    engine = Engine(Looks())
    engine.start()
    await asyncio.to_thread(engine.wait, 5)

    assert seen == [True]
    assert engine.failure is None
