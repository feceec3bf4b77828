"""The hub can't tell whether an event came by radio, file or network: the snapshots are the same.

The relay, the hub, their disks and the session are the program's own; the broker is in memory and
time is virtual, so that both clocks can be made to agree to the nanosecond.
"""

import asyncio
import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from memory_broker import MemoryBroker
from relayed_session import HubSide, RelaySide

from livemon.app.headless import snapshots_of
from livemon.app.hub_words import hub_notices
from livemon.events import Event, Mark, Notification
from livemon.link.simulated.virtual_loop import run_virtually
from livemon.record.reader import open_recording
from livemon.synthetic.sessions import TRAININGS
from livemon.synthetic.training import events_of, head_of

S = 1_000_000_000


def first(seconds: float, training: str, seed: int = 3) -> Iterator[Event]:
    for event in events_of(TRAININGS[training], seed):
        if event.t_ns > seconds * S:
            return
        yield event


def at_once() -> MemoryBroker:
    """A broker that takes no time."""
    broker = MemoryBroker()
    broker.delay_s = 0.0
    return broker


def lines_by_file(path: Path) -> list[str]:
    recording = open_recording(path)
    return list(snapshots_of(recording.head, recording.events()))


def readings(path: Path) -> list[Event]:
    """Return what sensors sent, each at its time to the nanosecond."""
    return [event for event in open_recording(path).events() if isinstance(event, Notification)]


def event_lines(path: Path) -> list[bytes]:
    """Return the lines of a recording without its heads."""
    return [line for line in path.read_bytes().splitlines() if not line.startswith(b'{"livemon"')]


@pytest.mark.parametrize("training", ["over-the-line", "trouble"])
def test_the_same_events_by_file_and_by_network_give_the_same_bytes(
    tmp_path: Path, training: str
) -> None:
    async def main() -> None:
        broker = at_once()
        hub, relay = HubSide(tmp_path, broker), RelaySide(tmp_path, broker, "gym-1")
        relay.start(head_of(TRAININGS[training]), first(150, training), "s1")
        await asyncio.sleep(150.2)
        await relay.stop()
        await hub.stop()

        by_file = lines_by_file(relay.recordings[0])
        assert len(by_file) >= 299
        assert hub.lines[: len(by_file)] == by_file
        assert readings(hub.journal) == readings(relay.recordings[0])
        # And so does the hub's own recording.
        assert lines_by_file(hub.journal)[: len(by_file)] == by_file
        # And its copy of the relay's, which is the relay's line by line.
        copy = hub.copy_of("gym-1", "s1")
        assert event_lines(copy) == event_lines(relay.recordings[0])
        assert lines_by_file(copy) == by_file
        assert hub.post.refusals.total == 0

    run_virtually(main())


def test_each_of_two_relays_lanes_are_as_by_its_own_file(tmp_path: Path) -> None:
    """Both call their athlete and sensors the same; the hub keeps them apart."""

    async def main() -> None:
        broker = at_once()
        hub = HubSide(tmp_path, broker)
        relays = [RelaySide(tmp_path, broker, name) for name in ("gym-1", "gym-2")]
        for relay, training in zip(relays, ("over-the-line", "trouble"), strict=True):
            relay.start(head_of(TRAININGS[training]), first(120, training), f"s-{relay.relay}")
        await asyncio.sleep(120.2)
        await asyncio.gather(*(relay.stop() for relay in relays))
        await hub.stop()

        for place, relay in enumerate(relays):
            alone = [json.loads(line)["lanes"][0] for line in lines_by_file(relay.recordings[0])]
            together = [json.loads(line)["lanes"][place] for line in hub.lines[: len(alone)]]
            assert together == alone

    run_virtually(main())


def test_an_outage_is_filled_in_behind_and_never_looks_live(tmp_path: Path) -> None:
    async def main() -> None:
        broker = at_once()
        hub, relay = HubSide(tmp_path, broker), RelaySide(tmp_path, broker, "gym-1")
        relay.start(head_of(TRAININGS["over-the-line"]), first(200, "over-the-line"), "s1")
        await asyncio.sleep(60)
        broker.up = False
        broker.restart(forgets=True)
        await asyncio.sleep(60)
        assert "NO BROKER" in notices(hub)[0]
        broker.up = True
        await asyncio.sleep(80.5)
        await relay.stop()
        await hub.stop()

        fed = list(open_recording(hub.journal).events())
        times = [event.t_ns for event in fed if isinstance(event, Notification)]
        # What was lost live is not in what was shown, and nothing came later than it happened.
        assert not [t_ns for t_ns in times if 60.1 * S < t_ns < 117 * S]
        assert times[-1] > 199 * S
        # During the outage every reading went stale on the hub's screen.
        heart = json.loads(hub.lines[2 * 110])["lanes"][0]["state"]["heart_rate"]
        assert (heart["trust"], heart["age_s"] > 45) == ("stale", True)
        # And yet the hub has all of it.
        assert event_lines(hub.copy_of("gym-1", "s1")) == event_lines(relay.recordings[0])

    run_virtually(main())


def test_who_joins_late_knows_the_kit_and_sees_no_old_reading(tmp_path: Path) -> None:
    async def main() -> None:
        broker = at_once()
        relay = RelaySide(tmp_path, broker, "gym-1")
        relay.start(head_of(TRAININGS["over-the-line"]), first(200, "over-the-line"), "s1")
        await asyncio.sleep(100)
        hub = HubSide(tmp_path, broker)
        await asyncio.sleep(5)
        (lane,) = hub.live.latest.lanes
        assert [sensor.linked for sensor in lane.sensors] == [True, True, True]
        assert len(lane.state.sites) == 2
        await asyncio.sleep(5)
        await relay.stop()
        await hub.stop()

        fed = list(open_recording(hub.journal).events())
        assert min(event.t_ns for event in fed if isinstance(event, Notification)) > 97 * S
        assert not any(isinstance(event, Mark) for event in fed)
        assert event_lines(hub.copy_of("gym-1", "s1")) == event_lines(relay.recordings[0])

    run_virtually(main())


def test_a_relay_that_is_killed_and_starts_again_goes_on_in_the_same_lane(tmp_path: Path) -> None:
    async def main() -> None:
        broker = at_once()
        hub, relay = HubSide(tmp_path, broker), RelaySide(tmp_path, broker, "gym-1")
        head = head_of(TRAININGS["over-the-line"])
        relay.start(head, first(200, "over-the-line"), "s1")
        await asyncio.sleep(30)
        relay.kill()
        await asyncio.sleep(6)
        assert "relay gym-1 is gone" in notices(hub)  # its will
        later = (event for event in first(200, "over-the-line", 4) if event.t_ns > 36 * S)
        relay.start(head, later, "s2")
        await asyncio.sleep(20)
        (lane,) = hub.live.latest.lanes
        assert lane.athlete == "gym-1.a1"
        assert lane.state.heart_rate.age_s < 3
        assert notices(hub) == ("1 relay",)
        await relay.stop()
        await hub.stop()

        for session, recording in zip(("s1", "s2"), relay.recordings, strict=True):
            assert event_lines(hub.copy_of("gym-1", session)) == event_lines(recording)

    run_virtually(main())


def test_a_session_that_no_hub_heard_arrives_whole_with_the_next(tmp_path: Path) -> None:
    """Its head, too: the copy is a recording like any other. And then nothing is owed."""

    async def main() -> None:
        broker = at_once()
        relay = RelaySide(tmp_path, broker, "gym-1")
        head = head_of(TRAININGS["over-the-line"])
        relay.start(head, first(30, "over-the-line"), "s1")
        await asyncio.sleep(30.5)
        await relay.stop()
        broker.retained.clear()  # nor does the broker remember
        hub = HubSide(tmp_path, broker)
        later = (event for event in first(200, "over-the-line", 4) if event.t_ns > 31 * S)
        relay.start(head, later, "s2")
        await asyncio.sleep(20)
        await relay.stop()
        await hub.stop()

        assert lines_by_file(hub.copy_of("gym-1", "s1")) == lines_by_file(relay.recordings[0])
        assert event_lines(hub.copy_of("gym-1", "s2")) == event_lines(relay.recordings[1])
        assert json.loads((tmp_path / "gym-1" / "owed.json").read_text()) == []
        # What is old was never shown.
        assert min(event.t_ns for event in readings(hub.journal)) > 31 * S

    run_virtually(main())


def test_a_relay_that_can_not_be_heard_is_told_within_five_seconds(tmp_path: Path) -> None:
    """The broker says nothing, and no link is known to be down: what counts is the age."""

    async def main() -> None:
        broker = at_once()
        hub, relay = HubSide(tmp_path, broker), RelaySide(tmp_path, broker, "gym-1")
        relay.start(head_of(TRAININGS["over-the-line"]), first(60, "over-the-line"), "s1")
        await asyncio.sleep(20)
        assert notices(hub) == ("1 relay",)
        broker.lose = 1.0  # of what is sent at most once, and live lines are
        await asyncio.sleep(5)
        assert notices(hub)[0].startswith("relay gym-1: nothing for ")
        assert json.loads(hub.lines[-1])["lanes"][0]["state"]["heart_rate"]["trust"] == "stale"
        broker.lose = 0.0
        await asyncio.sleep(2)
        assert notices(hub) == ("1 relay",)
        await relay.stop()
        await hub.stop()

    run_virtually(main())


def notices(hub: HubSide) -> tuple[str, ...]:
    return hub_notices(hub.post.standing())
