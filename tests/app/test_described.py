"""A sensor that says how its values are written, where its adapter file says something else.

Descriptors by hand from Bluetooth Core Specification, Vol 3 Part G, 3.3.3.5, and Assigned Numbers,
"Format Types" and "Units": 06 is uint16, 27AD percent, 27B2 mmol/L.
"""

import asyncio
import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from live_gym import live_of, virtual_time

from livemon.app.cli import main
from livemon.app.gym import HOST, Gym
from livemon.app.headless import snapshots_of
from livemon.app.kit_adapters import KitAdapters
from livemon.app.kit_room import KitRoom
from livemon.app.live import Live
from livemon.decode.adapter import parse_adapter
from livemon.events import Assigned, Athlete, Head, Notification, Sensor, SensorAdded
from livemon.link.identity import HostAddress, Remembered
from livemon.link.plan import adapter_plan
from livemon.link.simulated.sensor import Packet, SimulatedSensor
from livemon.link.simulated.virtual_loop import run_virtually
from livemon.monitor.session import Session
from livemon.record.reader import open_recording
from livemon.record.writer import Journal
from livemon.view.difference_words import difference_words

DESCRIPTOR = "00002904-0000-1000-8000-00805f9b34fb"
SERVICE = "7a0c0001-6e1d-4c55-9b7e-10f3c2a94e11"
CHARACTERISTIC = "7a0c0002-6e1d-4c55-9b7e-10f3c2a94e11"
ADAPTER = f"""
livemon_adapter = 1
name = "one-number"
about = "Invented: one number."
service = "{SERVICE}"
characteristic = "{CHARACTERISTIC}"
rate_hz = 1.0

[[field]]
quantity = "smo2"
offset = 0
format = "uint16"
scale = {{ d = -1 }}
not_known = [0xFFFF]
"""
AGREES = bytes.fromhex("06 FF AD 27 01 00 00")
OTHER_SCALE = bytes.fromhex("06 FE AD 27 01 00 00")
OTHER_UNIT = bytes.fromhex("06 FF B2 27 01 00 00")
SCALE_WORDS = "smo2: one raw step is 0.1, the sensor says 0.01"


def packets() -> Iterator[Packet]:
    number = 0
    while True:
        number += 1
        yield Packet(float(number), CHARACTERISTIC, (600 + number % 9).to_bytes(2, "little"))


def gym_with(*described: bytes) -> Gym:
    """Return one athlete with one oximeter that describes its characteristic so."""
    address = "0A:00:00:00:00:01"
    sensor = SimulatedSensor(
        address,
        "OXI",
        services={SERVICE: (CHARACTERISTIC,)},
        packets=packets(),
        described={CHARACTERISTIC: described},
    )
    head = Head(
        "2026-11-25T10:00:00+00:00",
        "s",
        (Athlete("a1", "Ada"),),
        (Sensor("oxi", "Oximeter 12", "one-number"),),
        (("one-number", ADAPTER),),
        (Assigned(0, "oxi", "a1", ("left thigh",)),),
    )
    plan = adapter_plan("oxi", parse_adapter(ADAPTER, where="x").connection)
    known = Remembered("oxi", "Oximeter 12", "OXI", "one-number", (HostAddress(HOST, address),))
    return Gym(head, (plan,), (known,), (("oxi", sensor),))


def lived(gym: Gym, path: Path) -> tuple[Live, KitRoom]:
    """Run 20 s of a live session on virtual time."""
    journal = Journal(path, gym.head, now_s=0.0)

    async def run() -> tuple[Live, KitRoom]:
        loop = virtual_time()
        live = live_of(gym, loop, journal=journal)
        adapters = KitAdapters({"one-number": ADAPTER})
        room = KitRoom(
            live, gym.head, adapters, host=HOST, now_ns=loop.now_ns, new_id=lambda kind: kind
        )
        task = asyncio.create_task(live.run())
        await asyncio.wait({task}, timeout=20.0)
        task.cancel()
        await asyncio.wait({task})
        return live, room

    return run_virtually(run())


def described_in(path: Path) -> list[bytes]:
    events = open_recording(path).events()
    return [
        event.payload
        for event in events
        if isinstance(event, Notification) and event.characteristic == DESCRIPTOR
    ]


@pytest.mark.parametrize(
    ("described", "finding"),
    [
        pytest.param(OTHER_SCALE, SCALE_WORDS, id="scale"),
        pytest.param(OTHER_UNIT, "smo2: unit is %, the sensor says mmol/L", id="unit"),
    ],
)
def test_a_difference_is_recorded_and_said(tmp_path: Path, described: bytes, finding: str) -> None:
    live, room = lived(gym_with(described), tmp_path / "s.jsonl")

    assert live.differences == (("oxi", "Oximeter 12", finding),)
    (words,) = difference_words(live.differences)
    assert words.startswith("Oximeter 12: its own description")
    assert finding in words
    assert finding in room.facts.in_use[0].hint
    assert described_in(tmp_path / "s.jsonl") == [described]
    assert live.latest is not None
    assert live.latest.rejected == ()
    assert live.latest.lanes[0].state.sites[0].smo2_pct is not None


def test_a_replay_says_the_same(tmp_path: Path) -> None:
    live, _ = lived(gym_with(OTHER_SCALE), tmp_path / "s.jsonl")
    recording = open_recording(tmp_path / "s.jsonl")
    session = Session(recording.head)
    for event in recording.events():
        session.feed(event)

    assert session.differences == live.differences
    assert list(snapshots_of(recording.head, recording.events()))


@pytest.mark.parametrize(
    "described",
    [
        pytest.param((), id="none"),
        pytest.param((OTHER_SCALE, OTHER_UNIT), id="several, for parts of the value"),
    ],
)
def test_nothing_is_read_where_nothing_can_be_compared(
    tmp_path: Path, described: tuple[bytes, ...]
) -> None:
    live, _ = lived(gym_with(*described), tmp_path / "s.jsonl")

    assert live.differences == ()
    assert described_in(tmp_path / "s.jsonl") == []


def test_agreement_is_recorded_and_not_said(tmp_path: Path) -> None:
    live, room = lived(gym_with(AGREES), tmp_path / "s.jsonl")

    assert live.differences == ()
    assert room.facts.in_use[0].hint == ""
    assert described_in(tmp_path / "s.jsonl") == [AGREES]


def test_a_descriptor_that_is_cut_short_costs_nothing(tmp_path: Path) -> None:
    live, _ = lived(gym_with(AGREES[:3]), tmp_path / "s.jsonl")

    assert live.differences == ()
    assert live.latest is not None
    assert [count for _, count in live.latest.rejected] == [1]
    assert live.latest.lanes[0].state.sites[0].smo2_pct is not None


def test_another_adapter_is_compared_afresh(tmp_path: Path) -> None:
    session = Session(gym_with().head)
    session.feed(Notification(1, "oxi", DESCRIPTOR, OTHER_SCALE))
    assert len(session.differences) == 1

    session.feed(SensorAdded(2, Sensor("oxi", "Renamed", "one-number")))
    assert [name for _, name, _ in session.differences] == ["Renamed"]

    right = ADAPTER.replace("d = -1", "d = -2")
    session.feed(SensorAdded(3, Sensor("oxi", "Renamed", "one-number"), right))
    assert session.differences == ()


def test_an_adapter_can_be_tried_against_a_descriptor(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "one.toml"
    file.write_text(ADAPTER, encoding="utf-8")
    attempt = ["adapter", "try", str(file), "--hex", "58 02", "--described"]

    assert main([*attempt, OTHER_SCALE.hex(" ")]) == 1
    assert f"differs: {SCALE_WORDS}" in capsys.readouterr().out
    assert main([*attempt, OTHER_SCALE.hex(), "--json"]) == 1
    assert json.loads(capsys.readouterr().out)["differs"] == [SCALE_WORDS]
    assert main([*attempt, AGREES.hex(" ")]) == 0
    assert "contradicts nothing" in capsys.readouterr().out
    assert main([*attempt, "06 FF"]) == 2
    assert "--described" in capsys.readouterr().err
