"""What a share refuses, each with its own message and log line, and no harm to a healthy relay."""

import asyncio
import logging
import socket
import time

import pytest
from net_gym import GROUP
from share_gym import KEYS, LIMITS, sharing, unharmed, until, write

from livemon.errors import UsageError
from livemon.net.broker import Will
from livemon.net.share_limits import ShareLimits
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


async def test_500_silent_connections_keep_nobody_out() -> None:
    async with sharing() as gym:
        hub, relay = await gym.healthy()
        silent = []
        for _ in range(500):
            _, writer = await gym.connect()
            silent.append(writer)
        began_s = time.monotonic()
        async with gym.broker("r1").connection() as connection:
            await connection.publish(topic("r1", Leaf.LIVE), b"x", qos=1)
        assert time.monotonic() - began_s < LIMITS.hello_s

        await unharmed(hub, relay)
        await gym.refused(Refusal.CROWD, 500 - LIMITS.waiting - 1)
        await gym.refused(Refusal.SILENT, LIMITS.waiting - 1)
        for writer in silent:
            writer.close()


async def test_a_crowd_from_one_address_pushes_out_only_its_own() -> None:
    async with sharing(ShareLimits(waiting=4, hello_s=5.0)) as gym:
        patient = socket.create_connection(("127.0.0.1", gym.port), source_address=("127.0.0.1", 0))
        crowd = [
            socket.create_connection(("127.0.0.1", gym.port), source_address=("127.0.0.2", 0))
            for _ in range(20)
        ]
        await gym.refused(Refusal.CROWD, 17)
        patient.setblocking(False)

        with pytest.raises(BlockingIOError):  # still open, nothing to read
            patient.recv(1)
        assert gym.log.counts[Refusal.CROWD] == 17
        for each in (patient, *crowd):
            each.close()


async def test_a_flood_is_slowed_down_and_the_others_go_on() -> None:
    limits = ShareLimits(messages_per_s=50, hello_s=5.0)
    async with sharing(limits) as gym:
        hub, relay = await gym.healthy()
        sent = 0

        async def flood() -> None:
            nonlocal sent
            async with gym.broker("r1").connection() as connection:
                while True:
                    await connection.publish(topic("r1", Leaf.LIVE), b"no batch", qos=1)
                    sent += 1

        began_s = time.monotonic()
        flooding = asyncio.create_task(flood())
        await gym.refused(Refusal.TOO_MUCH)
        for _ in range(10):
            write(relay, 2)
            await asyncio.sleep(0.02)
        await unharmed(hub, relay)
        passed_s = time.monotonic() - began_s
        flooding.cancel()
        with pytest.raises(asyncio.CancelledError):
            await flooding

        # Two seconds' worth at once, then no more than the rate; unhindered it would be thousands.
        # The rest is room for a machine that is busy just then.
        assert sent <= 2 * limits.messages_per_s + limits.messages_per_s * (passed_s + 1)
        assert set(gym.log.counts) == {Refusal.TOO_MUCH}


@pytest.mark.parametrize(
    "words",
    [
        pytest.param(b"GET / HTTP/1.1\r\n\r\n", id="another protocol"),
        pytest.param(b"\x30\x03\x00\x01a", id="a message before CONNECT"),
        pytest.param(b"\x10\xff\xff\xff\xff\x7f", id="a length without end"),
        pytest.param(b"\x10\x0c\x00\x04MQTT\x05\x02\x00\x0a\x00\x00", id="MQTT 5"),
        pytest.param(b"\x00\x00", id="nothing known"),
    ],
)
async def test_what_is_not_mqtt_is_sent_away(words: bytes) -> None:
    async with sharing() as gym:
        reader, writer = await gym.connect()
        writer.write(words)

        assert await reader.read() == b""
        assert dict(gym.log.counts) == {Refusal.NOT_OURS: 1}
        writer.close()


async def test_a_packet_can_not_be_hidden_in_another() -> None:
    """Amqtt reads two bytes of a PUBACK whatever its length says; the rest would be a packet."""
    async with sharing() as gym:
        hub, relay = await gym.healthy()
        reader, writer = await gym.connect()
        writer.write(CONNECT)
        assert (await reader.readexactly(4))[3] == 0
        place = topic("r0", Leaf.STATE).encode()
        hidden = bytes([0x30, len(place) + 4]) + len(place).to_bytes(2, "big") + place + b"{}"
        writer.write(bytes([0x40, len(hidden) + 2]) + b"\x00\x01" + hidden)

        assert await reader.read() == b""
        assert dict(gym.log.counts) == {Refusal.NOT_OURS: 1}
        writer.close()
        await unharmed(hub, relay)


#: Of relay r1, by hand after MQTT 3.1.1, 3.1; keep-alive 1 s.
CONNECT = b"\x10\x1b\x00\x04MQTT\x04\xc2\x00\x01\x00\x01x\x00\x02r1\x00\x08K7QM3XHD"


async def test_a_relay_that_falls_silent_is_given_up_after_its_own_time() -> None:
    async with sharing() as gym:
        reader, writer = await gym.connect()
        writer.write(CONNECT)
        assert (await reader.readexactly(4))[3] == 0
        began_s = time.monotonic()

        assert await reader.read() == b""
        assert 1.4 < time.monotonic() - began_s < 3
        assert dict(gym.log.counts) == {Refusal.GONE: 1}
        writer.close()


async def test_a_full_house_takes_no_more_but_those_it_knows() -> None:
    async with sharing() as gym:
        hub = gym.hub()
        relays = [gym.relay(f"r{n}") for n in range(LIMITS.relays)]
        await until(lambda: len(hub.there) == LIMITS.relays)

        with pytest.raises(BrokerLost):  # it may try again later
            async with gym.broker("r9").connection():
                pytest.fail("it should have been refused")
        assert dict(gym.log.counts) == {Refusal.FULL: 1}
        assert [relay.told for relay in relays] == [[""]] * LIMITS.relays


async def test_names_are_not_remembered_without_end() -> None:
    async with sharing() as gym:
        for number in range(LIMITS.names):
            async with gym.broker(f"n{number}").connection():
                pass
        with pytest.raises(BrokerLost):
            async with gym.broker("one-more").connection():
                pytest.fail("it should have been refused")
        async with gym.broker("n0").connection():
            pass


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
