"""What a share refuses, each with its own message and log line, and no harm to a healthy relay."""

import asyncio
import logging
import socket

import pytest
from net_gym import GROUP
from share_gym import KEYS, LIMITS, sharing, unharmed, until, write

from livemon.errors import UsageError
from livemon.net.broker import Will
from livemon.net.share_refusals import Refusal
from livemon.net.share_rules import password_of
from livemon.net.topics import Leaf, Topic
from livemon.net.trouble import BrokerLost


def topic(relay: str, leaf: Leaf) -> str:
    return str(Topic(GROUP, relay, leaf))


async def test_lines_are_shown_and_kept_once_and_in_order() -> None:
    async with sharing() as gym:
        hub = gym.hub()
        relays = [gym.relay(f"r{n}") for n in range(3)]
        await until(lambda: len(hub.there) == 3)
        for _ in range(20):
            for relay in relays:
                write(relay, 10)
            await asyncio.sleep(0.005)
        await until(lambda: all(hub.has_all_of(relay) for relay in relays))

        for relay in relays:
            assert hub.shown_of(relay) == relay.disk[f"{relay.name}-run-1"]
        assert not gym.log.counts


async def test_a_hub_that_comes_later_is_told_who_is_there() -> None:
    async with sharing() as gym:
        relay = gym.relay("r0")
        await until(lambda: relay.told == [""])
        write(relay, 5)
        hub = gym.hub()

        await until(lambda: hub.there == {"r0": True} and hub.has_all_of(relay))
        assert hub.meta == {"r0": b'{"session":"r0-run-1"}'}


@pytest.mark.parametrize(
    ("user", "password", "refusal", "said"),
    [
        pytest.param(None, None, Refusal.NO_CREDENTIALS, "does not let us in", id="nobody"),
        pytest.param("r1", None, Refusal.NO_CREDENTIALS, "does not let us in", id="no code"),
        pytest.param("r1", "", Refusal.NO_CREDENTIALS, "does not let us in", id="empty code"),
        pytest.param("r1", "K7QM3XHE", Refusal.WRONG_CODE, "name or password", id="wrong code"),
        pytest.param("r1", "k7qm", Refusal.WRONG_CODE, "name or password", id="half a code"),
        pytest.param("hub", KEYS.secret, Refusal.WRONG_CODE, "name or password", id="as the hub"),
        pytest.param("Jo Doe", KEYS.secret, Refusal.BAD_NAME, "another name", id="no id"),
    ],
)
async def test_who_may_not_come_in_is_told_so(
    user, password, refusal, said, caplog: pytest.LogCaptureFixture
) -> None:
    async with sharing() as gym:
        hub, relay = await gym.healthy()

        with pytest.raises(UsageError, match=said):
            async with gym.broker(user, password).connection():
                pytest.fail("it should have been refused")

        assert dict(gym.log.counts) == {refusal: 1}
        assert [record.getMessage() for record in caplog.records if "share" in record.name] == [
            f"127.0.0.1 {refusal.value}" + DETAILS.get((user, refusal), "")
        ]
        await unharmed(hub, relay)


DETAILS = {
    ("hub", Refusal.WRONG_CODE): ": for the hub's own name",
    ("Jo Doe", Refusal.BAD_NAME): ": 'Jo Doe'",
}


async def test_a_code_may_be_given_as_it_is_shown() -> None:
    async with sharing() as gym, gym.broker("r1", "k7qm-3xhd").connection() as connection:
        await connection.publish(topic("r1", Leaf.LIVE), b"x", qos=1)


@pytest.mark.parametrize(
    "place",
    [
        pytest.param(topic("r0", Leaf.LIVE), id="another relay's"),
        pytest.param(topic("r1", Leaf.HAVE), id="the hub's"),
        pytest.param("livemon/1/class-b/r1/live", id="another group"),
        pytest.param("livemon/1/class-a/hub/live", id="in the hub's place"),
        pytest.param("$SYS/broker", id="the broker's own"),
        pytest.param("somewhere", id="anywhere"),
    ],
)
async def test_the_right_code_on_a_foreign_topic_ends_the_connection(place: str) -> None:
    async with sharing() as gym:
        hub, relay = await gym.healthy()
        before = list(hub.shown)

        with pytest.raises(BrokerLost):
            async with gym.broker("r1").connection() as connection:
                await connection.publish(place, b'{"batch":1}', qos=1)

        assert dict(gym.log.counts) == {Refusal.FOREIGN_TOPIC: 1}
        assert hub.shown == before
        assert hub.hub is not None
        await unharmed(hub, relay)


@pytest.mark.parametrize(
    "wanted",
    [topic("r0", Leaf.HAVE), topic("r0", Leaf.LIVE), "livemon/1/class-a/+/live", "#", "$SYS/#"],
)
async def test_nobody_but_the_hub_hears_others(wanted: str) -> None:
    async with sharing() as gym:
        hub, relay = await gym.healthy()

        with pytest.raises(BrokerLost):
            async with gym.broker("r1").connection() as connection:
                await connection.subscribe([(wanted, 1)])

        assert dict(gym.log.counts) == {Refusal.FOREIGN_TOPIC: 1}
        await unharmed(hub, relay)


async def test_a_relay_is_sent_nothing_that_it_did_not_ask_for() -> None:
    """Amqtt 0.12.1 sends a new client what is retained for everybody else's subscriptions."""
    async with sharing() as gym:
        hub, relay = await gym.healthy()
        async with gym.broker("r1").connection() as connection:
            await connection.subscribe([(topic("r1", Leaf.HAVE), 1)])
            await connection.publish(topic("r1", Leaf.STATE), STATE, qos=1, retain=True)
            arrival = await anext(connection.arrivals())

        assert arrival.topic == topic("r1", Leaf.HAVE)
        await unharmed(hub, relay)


STATE = b'{"state":1,"session":"s1","there":true}'


async def test_a_will_for_another_is_refused() -> None:
    async with sharing() as gym:
        hub, relay = await gym.healthy()
        will = Will(topic("r0", Leaf.STATE), b'{"state":1,"session":"forged","there":false}')

        with pytest.raises(UsageError, match="does not let us in"):
            async with gym.broker("r1", will=will).connection():
                pytest.fail("it should have been refused")

        assert dict(gym.log.counts) == {Refusal.FOREIGN_TOPIC: 1}
        await unharmed(hub, relay)


async def test_what_may_not_stay_is_refused() -> None:
    """A retained measurement would look live to whoever joins tomorrow."""
    async with sharing() as gym:
        with pytest.raises(BrokerLost):
            async with gym.broker("r1").connection() as connection:
                await connection.publish(topic("r1", Leaf.LIVE), b"63 %", qos=1, retain=True)

        assert dict(gym.log.counts) == {Refusal.FOREIGN_TOPIC: 1}


async def test_an_oversized_message_ends_the_connection_before_its_bytes_come() -> None:
    async with sharing() as gym:
        hub, relay = await gym.healthy()

        with pytest.raises(BrokerLost):
            async with gym.broker("r1").connection() as connection:
                await connection.publish(topic("r1", Leaf.LIVE), bytes(LIMITS.longest_bytes), qos=1)

        assert dict(gym.log.counts) == {Refusal.TOO_LONG: 1}
        await unharmed(hub, relay)


async def test_the_largest_batch_goes_through() -> None:
    async with sharing() as gym, gym.broker("r1").connection() as connection:
        await connection.publish(topic("r1", Leaf.LIVE), bytes(65_536), qos=1)

        assert not gym.log.counts


async def test_a_second_relay_with_the_same_name_is_told_to_take_another() -> None:
    async with sharing() as gym:
        hub, relay = await gym.healthy()

        with pytest.raises(UsageError, match="choose another name"):
            async with gym.broker("r0", password_of(KEYS.secret, "another computer")).connection():
                pytest.fail("it should have been refused")

        assert dict(gym.log.counts) == {Refusal.NAME_TAKEN: 1}
        await unharmed(hub, relay)


async def test_a_name_stays_with_its_computer_while_it_is_away() -> None:
    async with sharing() as gym:
        async with gym.broker("r0", password_of(KEYS.secret, "own")).connection():
            pass
        with pytest.raises(UsageError, match="choose another name"):
            async with gym.broker("r0", password_of(KEYS.secret, "other")).connection():
                pytest.fail("it should have been refused")


async def test_a_relay_that_comes_back_takes_the_place_of_its_dead_connection() -> None:
    """Nobody told the hub's side that the cable was cut; the old will must not come afterwards."""
    async with sharing() as gym:
        hub = gym.hub()
        will = Will(topic("r0", Leaf.STATE), b'{"state":1,"session":"s1","there":false}')
        heard: list[bool] = []
        password = password_of(KEYS.secret, "own")
        async with gym.broker("r0", password, will=will).connection() as first:
            await first.publish(topic("r0", Leaf.STATE), STATE, qos=1, retain=True)
            await until(lambda: hub.there == {"r0": True})
            async with gym.broker("r0", password, will=will).connection() as second:
                await second.publish(topic("r0", Leaf.STATE), STATE, qos=1, retain=True)
                await second.publish(topic("r0", Leaf.META), b"{}", qos=1)
                await until(lambda: "r0" in hub.meta)
                heard.append(hub.there["r0"])
                with pytest.raises(BrokerLost):
                    await first.publish(topic("r0", Leaf.STATE), STATE, qos=1)
        assert heard == [True]


async def test_a_relay_that_vanishes_is_said_to_be_gone() -> None:
    async with sharing() as gym:
        hub, relay = await gym.healthy()
        will = Will(topic("r1", Leaf.STATE), b'{"state":1,"session":"s1","there":false}')
        broker = gym.broker("r1", will=will)
        async with broker.connection() as connection:
            await connection.publish(topic("r1", Leaf.STATE), STATE, qos=1, retain=True)
            await until(lambda: hub.there.get("r1") is True)
            with pytest.raises(BrokerLost):  # cut off without a goodbye
                await connection.publish("elsewhere", b"", qos=1)
        await until(lambda: hub.there["r1"] is False)

        await unharmed(hub, relay)


async def test_after_the_end_the_port_is_free_and_clients_are_gone() -> None:
    async with sharing() as gym:
        reader, writer = await gym.connect()
        relay = gym.relay("r0")
        await until(lambda: relay.told == [""])
    assert await reader.read() == b""
    writer.close()
    with socket.create_server(("127.0.0.1", gym.port)):
        pass


async def test_no_log_line_tells_a_secret(caplog: pytest.LogCaptureFixture) -> None:
    caplog.set_level(logging.DEBUG)
    async with sharing() as gym:
        hub, relay = await gym.healthy()
        with pytest.raises(UsageError):
            async with gym.broker("r1", "K7QM3XHE").connection():
                pytest.fail("it should have been refused")
        await unharmed(hub, relay)

    assert caplog.records
    for secret in (KEYS.secret, KEYS.hub_key, "K7QM3XHE"):
        assert secret not in caplog.text
