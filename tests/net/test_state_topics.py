"""Decoded states for other programs: as the published schema says, without names, and cleared away.

The schema is checked by the library jsonschema, which knows nothing of livemon.
"""

import asyncio
import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from memory_broker import MemoryBroker
from mosquitto_fixtures import Mosquitto
from net_gym import GROUP
from test_mosquitto import PATIENCE, address

from livemon.link.simulated.virtual_loop import run_virtually
from livemon.monitor.session import Session
from livemon.monitor.snapshot import SessionSnapshot
from livemon.net.athlete_state import athlete_state
from livemon.net.mqtt import MqttBroker
from livemon.net.state_topics import StateTopics
from livemon.net.topics import hub_listens, hub_topic
from livemon.synthetic.sessions import TRAININGS
from livemon.synthetic.training import events_of, head_of

jsonschema = pytest.importorskip("jsonschema")

SCHEMA = json.loads(
    (Path(__file__).parents[2] / "docs" / "athlete-state.schema.json").read_text(encoding="utf-8")
)
TOPIC = "livemon/1/class-a/hub/athletes/a1"


@cache
def snapshots(training: str) -> tuple[SessionSnapshot, ...]:
    """Return the session's state every five seconds, and before anything came."""
    found: list[SessionSnapshot] = []
    session = Session(head_of(TRAININGS[training]))
    found.append(session.snapshot())
    for event in events_of(TRAININGS[training], seed=3):
        session.feed(event)
        if event.t_ns // 5_000_000_000 >= len(found):
            found.append(session.snapshot())
    return tuple(found)


def states(training: str, *, name: bool = False) -> Iterator[dict[str, Any]]:
    for snapshot in snapshots(training):
        for lane in snapshot.lanes:
            payload = athlete_state(lane, t_s=snapshot.t_s, utc_ms=1_767_261_600_000, name=name)
            yield json.loads(payload)


@pytest.mark.parametrize("training", ["over-the-line", "trouble"])
def test_every_state_is_as_the_schema_says(training: str) -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    validator = jsonschema.Draft202012Validator(SCHEMA)
    said = list(states(training))

    assert len(said) > 200
    for state in said:
        validator.validate(state)
        assert set(state) <= set(SCHEMA["properties"])
        for site in state["sites"]:
            assert set(site) <= set(SCHEMA["properties"]["sites"]["items"]["properties"])


def test_the_session_has_all_that_there_is_to_say() -> None:
    """Else the test above would prove little."""
    said = [*states("over-the-line"), *states("trouble")]
    sites = [site for state in said for site in state["sites"]]

    assert {site["warning"] for site in sites} >= {None, "information", "drain"}
    assert {site["trust"] for site in sites} >= {"good", "stale", "no contact"}
    assert any(state["bout"] is None for state in said)
    assert any(state["bout"] is not None for state in said)
    assert any(site["fall_rate"] is None for site in sites)


@pytest.mark.parametrize(
    "wrong",
    [
        {"athlete_state": 2},
        {"utc_ms": "now"},
        {"heart_rate": {"bpm": "148"}},
        {"sites": [{"site": "left thigh"}]},
    ],
)
def test_the_schema_refuses_what_is_wrong(wrong: dict[str, object]) -> None:
    state = next(states("over-the-line")) | wrong

    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft202012Validator(SCHEMA).validate(state)


def test_a_fall_rate_is_positive_when_falling_and_its_limits_are_in_order() -> None:
    for snapshot, state in zip(snapshots("over-the-line"), states("over-the-line"), strict=True):
        (lane,) = snapshot.lanes
        for site, said in zip(lane.state.sites, state["sites"], strict=True):
            if site.trend is not None:
                fall = said["fall_rate"]
                assert fall["pct_per_min"] == -site.trend.pct_per_min
                assert fall["low_pct_per_min"] <= fall["pct_per_min"] <= fall["high_pct_per_min"]


def test_names_are_told_only_if_asked_for() -> None:
    assert not any("Lane 3" in json.dumps(state) for state in states("over-the-line"))
    assert all(state["name"] == "Lane 3" for state in states("over-the-line", name=True))


def test_they_are_retained_renewed_each_second_and_cleared_away_at_the_end() -> None:
    async def main() -> None:
        broker = MemoryBroker()
        loop = asyncio.get_running_loop()
        topics = StateTopics(
            "class-a",
            lambda: snapshots("over-the-line")[100],
            utc_ms=lambda: int(loop.time() * 1e3),
        )
        async with broker.door("hub", topics.will).connection() as connection:
            working = asyncio.create_task(topics.work(connection))
            await asyncio.sleep(10.5)
            assert json.loads(broker.retained[TOPIC])["utc_ms"] > 9_000
            assert sum(topic == TOPIC for topic, _ in broker.log) in {10, 11}
            assert broker.retained[hub_topic("class-a", "there")] == b'{"hub":1,"there":true}'
            working.cancel()
            await asyncio.wait({working})

        assert broker.log[-2] == (TOPIC, b"")
        assert broker.retained[hub_topic("class-a", "there")] == b'{"hub":1,"there":false}'

    run_virtually(main())


def test_a_hub_does_not_hear_itself() -> None:
    """A filter's `+` stands for one level (MQTT 3.1.1, 4.7.1.3)."""
    ours = [hub_topic("class-a", "there"), hub_topic("class-a", "athletes", "gym-1.a1")]

    for topic_filter, _ in hub_listens("class-a"):
        leaf = topic_filter.rsplit("/", 1)[1]
        assert not any(t.count("/") == 4 and t.endswith(f"/{leaf}") for t in ours)


@pytest.mark.parametrize("athlete", ["a/b", "+", "#", "Ada Lovelace", "a\0b"])
def test_whatever_an_id_holds_its_topic_is_one(athlete: str) -> None:
    topic = hub_topic("g", "athletes", athlete)

    assert topic.startswith("livemon/1/g/hub/athletes/")
    assert topic.count("/") == 5
    assert not set("+# \0") & set(topic)


async def test_through_mosquitto_a_screen_reads_them_and_a_relay_can_not_forge_them(
    mosquitto: Mosquitto,
) -> None:
    def way(user: str) -> MqttBroker:
        return MqttBroker(address(mosquitto.port, user), user, patience=PATIENCE)

    topics = StateTopics(GROUP, lambda: snapshots("over-the-line")[100], utc_ms=lambda: 7)
    async with way("r1").connection() as forger, way("hub").connection() as hub:
        await forger.publish(hub_topic(GROUP, "athletes", "a1"), b"forged", qos=1, retain=True)
        working = asyncio.create_task(topics.work(hub))
        async with way("screen").connection() as screen:
            filters = [(f"livemon/1/{GROUP}/hub/athletes/+", 1), (f"livemon/1/{GROUP}/+/live", 0)]
            await screen.subscribe(filters)
            first = await anext(aiter(screen.arrivals()))

        assert json.loads(first.payload)["utc_ms"] == 7
        working.cancel()
        await asyncio.wait({working})
