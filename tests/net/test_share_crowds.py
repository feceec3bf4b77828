"""Crowds, floods and what is no MQTT at a share's door do no harm to those who belong."""

import asyncio
import socket
import time

import pytest
from net_gym import GROUP
from share_gym import LIMITS, sharing, unharmed, until, write

from livemon.net.share_limits import ShareLimits
from livemon.net.share_refusals import Refusal
from livemon.net.topics import Leaf, Topic
from livemon.net.trouble import BrokerLost


def topic(relay: str, leaf: Leaf) -> str:
    return str(Topic(GROUP, relay, leaf))


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
