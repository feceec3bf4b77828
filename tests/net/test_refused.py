"""Each refusal has its own message and a log line, and harms nobody else.

Who may not come in at all is in test_mosquitto.py and test_certificates.py; here are those who are
in, and go wrong.
"""

import asyncio
import logging
import socket
import time
from contextlib import ExitStack

import pytest
from memory_broker import MemoryBroker
from mosquitto_fixtures import Mosquitto
from net_gym import GROUP, Entrance, HubMachine, RelayMachine
from test_mosquitto import PATIENCE, a_hall, address, stopped, until, write

from livemon.link.simulated.virtual_loop import VirtualTimeLoop, run_virtually
from livemon.net.batch import Batch, encode_batch
from livemon.net.broker import Broker, Will
from livemon.net.hub import Source
from livemon.net.mqtt import MqttBroker
from livemon.net.topics import HUB, Leaf, Topic
from livemon.net.trouble import BrokerLost

S = 1_000_000_000


def now_ns() -> int:
    loop = asyncio.get_running_loop()
    assert isinstance(loop, VirtualTimeLoop)
    return loop.now_ns()


def live(relay: str, payload: bytes) -> tuple[str, bytes]:
    return str(Topic(GROUP, relay, Leaf.LIVE)), payload


def state(relay: str, payload: bytes) -> tuple[str, bytes]:
    return str(Topic(GROUP, relay, Leaf.STATE)), payload


SOUND = encode_batch(Batch("r1-run-1", 1, 0, 0, (b"{}",)))


@pytest.mark.parametrize(
    ("message", "why"),
    [
        pytest.param(live("r1", b"nonsense"), "header is not JSON", id="malformed"),
        pytest.param(live("r1", b"x" * 70_000), "at most 65536 are taken", id="oversized"),
        pytest.param(
            live("r1", SOUND.replace(b'"batch":1', b'"batch":2')), "version 2", id="wrong version"
        ),
        pytest.param(
            state("r1", b'{"state":2,"session":"s","there":true}'),
            "a state of another version",
            id="state of a wrong version",
        ),
        pytest.param(
            live("r1", encode_batch(Batch("s-of-last-week", 1, 0, 0, (b"{}",)))),
            "that it does not write now",
            id="replayed old batch",
        ),
        pytest.param(live(HUB, SOUND), "in the hub's own name", id="in the hub's name"),
        pytest.param(("livemon/1/class-a/R 1/live", SOUND), "none of livemon's", id="no topic"),
    ],
)
def test_what_is_wrong_is_said_logged_and_harms_nobody(
    message: tuple[str, bytes], why: str, caplog: pytest.LogCaptureFixture
) -> None:
    async def main() -> None:
        broker = MemoryBroker()
        hub = HubMachine(broker.door, now_ns)
        machines = [RelayMachine(f"r{n}", broker.door, now_ns) for n in range(2)]
        for machine in (hub, *machines):
            machine.start()
        await asyncio.sleep(1)
        assert hub.hub is not None
        assert hub.hub.refusals.total == 0
        for _ in range(3):
            broker.published(*message, qos=1)
        for machine in machines:
            for number in range(20):
                machine.write(f"{machine.name} {number}".encode())
        await asyncio.sleep(3)

        assert hub.hub.refusals.total == 3
        assert why in hub.hub.refusals.newest
        assert [why in record.getMessage() for record in caplog.records] == [True]
        for machine in machines:
            assert hub.has_all_of(machine)
            assert hub.shown_of(machine) == machine.disk[f"{machine.name}-run-1"]
        await asyncio.gather(hub.stop(), *(machine.stop() for machine in machines))

    with caplog.at_level(logging.WARNING, logger="livemon.net.refusals"):
        run_virtually(main())


def test_lines_that_a_broker_had_kept_are_refused() -> None:
    async def main() -> None:
        broker = MemoryBroker()
        broker.retained[str(Topic(GROUP, "r1", Leaf.LIVE))] = SOUND
        hub = HubMachine(broker.door, now_ns)
        hub.start()
        await asyncio.sleep(1)

        assert hub.hub is not None
        assert hub.shown == []
        assert "nobody knows how old" in hub.hub.refusals.newest
        await hub.stop()

    run_virtually(main())


def test_what_was_held_up_on_the_way_is_kept_and_not_shown() -> None:
    async def main() -> None:
        broker = MemoryBroker()
        hub = HubMachine(broker.door, now_ns)
        hub.start()
        await asyncio.sleep(10)
        topic = str(Topic(GROUP, "r1", Leaf.LIVE))
        broker.published(topic, encode_batch(Batch("s1", 1, 10 * S, 0, (b"1",))), qos=0)
        await asyncio.sleep(10)
        broker.published(topic, encode_batch(Batch("s1", 2, 11 * S, 0, (b"2",))), qos=0)
        await asyncio.sleep(0.1)

        assert [line for _, _, line in hub.shown] == [b"1"]
        assert hub.disk[Source("r1", "s1")] == [b"1", b"2"]
        assert hub.hub is not None
        assert "under way" in hub.hub.refusals.newest
        await hub.stop()

    run_virtually(main())


def test_a_full_disk_at_the_hub_stops_no_live_view_and_costs_no_line() -> None:
    async def main() -> None:
        broker = MemoryBroker()
        hub, relay = HubMachine(broker.door, now_ns), RelayMachine("r0", broker.door, now_ns)
        hub.start()
        relay.start()
        await asyncio.sleep(1)
        hub.disk_is_full = True
        for number in range(100):
            relay.write(str(number).encode())
            await asyncio.sleep(0.05)
        assert hub.shown_of(relay) == relay.disk["r0-run-1"]
        assert not hub.has_all_of(relay)
        hub.disk_is_full = False
        await asyncio.sleep(5)

        assert hub.has_all_of(relay)
        assert len(hub.shown) == 100
        await asyncio.gather(hub.stop(), relay.stop())

    run_virtually(main())


def test_a_relay_whose_sensors_are_silent_says_that_it_is_there() -> None:
    """Each second, and with nothing that could look like a reading."""

    async def main() -> None:
        broker = MemoryBroker()
        hub, relay = HubMachine(broker.door, now_ns), RelayMachine("r0", broker.door, now_ns)
        hub.start()
        relay.start()
        await asyncio.sleep(1)
        before = len(hub.heard)
        await asyncio.sleep(10)

        assert 8 <= len(hub.heard) - before <= 10
        assert hub.shown == []
        await asyncio.gather(hub.stop(), relay.stop())

    run_virtually(main())


async def test_a_flooding_relay_is_cut_down_and_costs_no_other_a_line(
    mosquitto: Mosquitto,
) -> None:
    hub, relays = a_hall(mosquitto.port, 1)
    await until(lambda: "r0" in hub.there)
    flooder = MqttBroker(address(mosquitto.port, "r1"), "relay-r1", patience=PATIENCE)

    async def flood() -> None:
        async with flooder.connection() as connection:
            for _ in range(6000):
                await connection.publish(*live("r1", b"x" * 1000), qos=0)

    flooding = asyncio.create_task(flood())
    for _ in range(50):
        write(relays[0], 4)
        await asyncio.sleep(0.01)
    await asyncio.wait({flooding})
    await until(lambda: hub.has_all_of(relays[0]))

    assert hub.hub is not None
    assert "messages beyond what a relay may send" in hub.hub.refusals.reasons
    assert hub.hub.refusals.of("r0") == 0
    assert hub.told == [""]  # the hub was never cut off
    await stopped(hub, relays)


async def test_five_hundred_silent_connections_cost_nobody_a_line(mosquitto: Mosquitto) -> None:
    """They take the places of others who would come, and none of those who are there."""
    hub, relays = a_hall(mosquitto.port, 1)
    await until(lambda: "r0" in hub.there)
    late = MqttBroker(address(mosquitto.port, "r1"), "relay-r1", patience=PATIENCE)
    with ExitStack() as silent:
        for number in range(500):
            silent.enter_context(socket.create_connection(("127.0.0.1", mosquitto.port)))
            if number % 50 == 0:  # let the broker take them, or the system makes us wait
                await asyncio.sleep(0.02)
        for _ in range(50):
            write(relays[0], 4)
            await asyncio.sleep(0.01)
        await until(lambda: hub.has_all_of(relays[0]))
        assert hub.shown_of(relays[0]) == relays[0].disk["r0-run-1"]
        with pytest.raises(BrokerLost):
            async with late.connection():
                pytest.fail("there was no place for it")

    async def comes_in() -> None:
        while True:
            try:
                async with late.connection():
                    return
            except BrokerLost:
                await asyncio.sleep(0.05)

    await asyncio.wait_for(comes_in(), 10)
    assert hub.told == [""]
    await stopped(hub, relays)


def way(port: int) -> Entrance:
    """Each client logs in by its own id; a hub's stands behind its group."""

    def enter(identifier: str, will: Will | None) -> Broker:
        user = "hub" if identifier.startswith("hub") else identifier.removeprefix("relay-")
        return MqttBroker(address(port, user), identifier, will=will, patience=PATIENCE)

    return enter


async def test_two_hubs_on_two_groups_share_a_broker(mosquitto: Mosquitto) -> None:
    """Each sees its own group's relays and nothing of the other's."""
    hubs = [HubMachine(way(mosquitto.port), time.monotonic_ns, group=g) for g in ("red", "blue")]
    relays = [
        RelayMachine(f"r{n}", way(mosquitto.port), time.monotonic_ns, group=("red", "blue")[n % 2])
        for n in range(3)
    ]
    for machine in (*hubs, *relays):
        machine.start()
    await until(lambda: len(hubs[0].there) == 2 and len(hubs[1].there) == 1)
    for _ in range(20):
        for relay in relays:
            write(relay, 5)
        await asyncio.sleep(0.01)
    red, blue = hubs
    await until(lambda: red.has_all_of(relays[0]) and red.has_all_of(relays[2]))
    await until(lambda: blue.has_all_of(relays[1]))

    assert {source.relay for source in red.disk} == {"r0", "r2"}
    assert {source.relay for source in blue.disk} == {"r1"}
    assert red.shown_of(relays[0]) == relays[0].disk["r0-run-1"]
    assert blue.shown_of(relays[1]) == relays[1].disk["r1-run-1"]
    await asyncio.gather(*(machine.stop() for machine in (*hubs, *relays)))
