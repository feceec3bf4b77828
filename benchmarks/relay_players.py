"""Relays that play invented readings to a broker, for relay.py."""

import asyncio
import time
from collections.abc import Iterator
from pathlib import Path
from random import Random

from livemon.app.journaling import Journaling
from livemon.app.relay_ids import OwnIds
from livemon.app.relay_owed import OwedFile
from livemon.app.relay_play import Played
from livemon.app.relay_post import RelayPost
from livemon.app.relay_recorder import RelayRecorder
from livemon.decode.adapter import parse_adapter
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.decode.samples import HeartRateSample, OxygenationSample
from livemon.decode.shipped import shipped_adapters
from livemon.events import Assigned, Athlete, Event, Head, LinkUp, Notification, Sensor
from livemon.net.address import BrokerAddress
from livemon.net.mqtt import MqttBroker
from livemon.net.relay import Clocks
from livemon.net.share_rules import password_of
from livemon.synthetic.packets import heart_rate_packet, oxygenation_packet

RELAYS = 8
ATHLETES = 16  # of all relays together, with a strap and two oximeters each
RATE_HZ = 10
GROUP = "bench"
STARTED = "2026-01-01T00:00:00+00:00"
NS = 1_000_000_000


def head_of(relay: int, athletes: int = ATHLETES) -> Head:
    """Return who wears what at one relay."""
    names = [f"a{n}" for n in range(athletes // RELAYS)]
    sites = ("left thigh", "right forearm")
    return Head(
        STARTED,
        f"bench-{relay}",
        tuple(Athlete(name, "") for name in names),
        tuple(
            Sensor(f"{name}-{kind}", "", None if kind == "strap" else "invented-demo")
            for name in names
            for kind in ("strap", *sites)
        ),
        (("invented-demo", shipped_adapters()["invented-demo"]),),
        tuple(
            Assigned(0, f"{name}-{kind}", name, () if kind == "strap" else (kind,))
            for name in names
            for kind in ("strap", *sites)
        ),
    )


def events_of(head: Head, seconds: float, begin_ns: int, rate_hz: float) -> Iterator[Event]:
    """Yield readings of all sensors, spread over each period as radios do."""
    adapter = parse_adapter(head.adapters[0][1], where="invented-demo")
    for sensor in head.sensors:
        yield LinkUp(begin_ns, sensor.sensor)
    for number in range(int(seconds * rate_hz)):
        for place, sensor in enumerate(head.sensors):
            t_ns = begin_ns + round((number + place / len(head.sensors)) * NS / rate_hz)
            t_s = t_ns / NS
            if sensor.adapter is None:
                bytes_ = heart_rate_packet(HeartRateSample(t_s, 120 + number % 40, True, ()))
                yield Notification(t_ns, sensor.sensor, HEART_RATE_MEASUREMENT, bytes_)
            else:
                sample = OxygenationSample(t_s, "", 40 + number % 300 / 10, 12.0)
                bytes_ = oxygenation_packet(sample, adapter, number)
                yield Notification(t_ns, sensor.sensor, adapter.characteristic, bytes_)


def now_since(start_ns: int) -> int:
    """Return the clock that all processes share."""
    return time.perf_counter_ns() - start_ns


async def relays(
    folder: Path, port: int, secret: str, start_ns: int, seconds: float, athletes: int
) -> None:
    """Play all relays in this process: they share what a hub's computer never has to do."""
    await asyncio.gather(
        *(one_relay(folder, port, secret, start_ns, seconds, n, athletes) for n in range(RELAYS))
    )


async def one_relay(
    folder: Path, port: int, secret: str, start_ns: int, seconds: float, number: int, athletes: int
) -> None:
    """Play one relay to its end, and send what it wrote."""
    name = f"r{number}"
    own = OwnIds(name)
    head = own.head(head_of(number, athletes))
    home = folder / name
    home.mkdir()
    path = home / "session.jsonl"
    password = password_of(secret, name) if secret else None
    user = name if secret else None
    address = BrokerAddress("127.0.0.1", port, False, GROUP, user, password)
    post = RelayPost(
        GROUP,
        name,
        head,
        path,
        OwedFile(home),
        "bench",
        lambda will: MqttBroker(address, name, will=will),
        Clocks(lambda: now_since(start_ns), lambda: 0),
        Random(number),
    )
    # The way to the broker runs in this loop, too; the machine has no core for 8 more threads.
    posting = asyncio.create_task(post.run())
    recorder = RelayRecorder(Journaling(path, head), own, post.take)
    begin_ns = now_since(start_ns) + NS + number * 12_000_000
    events = events_of(head_of(number, athletes), seconds, begin_ns, RATE_HZ)
    await Played(events, recorder, now_ns=lambda: now_since(start_ns)).run()
    await asyncio.sleep(3)
    post.finish()
    await posting
