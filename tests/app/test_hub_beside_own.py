"""A hub that reads sensors of its own beside its relays: one session, written down and replayed.

Own sensors are on the simulated radio, on virtual time; what the relay sends is an invented belt.
"""

import asyncio
from pathlib import Path
from random import Random

import pytest

from livemon.app.gym import HOST, gym_of
from livemon.app.headless import snapshots_of
from livemon.app.hub_inflow import HubInflow
from livemon.app.live import Live
from livemon.decode.standard import HEART_RATE_MEASUREMENT
from livemon.events import (
    Assigned,
    Athlete,
    AthleteChanged,
    Event,
    Notification,
    Sensor,
    SensorAdded,
)
from livemon.link.clocks import Clocks
from livemon.link.simulated.virtual_loop import VirtualTimeLoop, run_virtually
from livemon.monitor.payload import snapshot_line
from livemon.record.reader import open_recording
from livemon.record.writer import Journal
from livemon.synthetic.sessions import TRAININGS

S = 1_000_000_000
MS = 1_000_000
SECONDS = 60.0
#: A relay's lines are that old when they come: gathered, sent, merged.
UNDER_WAY_NS = 35 * MS
GUEST, BELT = "gym-1.a1", "gym-1.belt"
#: Heart Rate Measurement (Bluetooth SIG, HRS 1.0, 3.1): flags, then one byte of bpm.
BPM = 142
#: Told apart by the energy field that follows with flag 0x08 (3.1, table 3.1), in kJ.
_WITH_ENERGY = 0x08


def relayed() -> list[Event]:
    """One guest with a belt, once a second, at times that fall between those of the own sensors."""
    kit: list[Event] = [
        AthleteChanged(S, Athlete(GUEST, "")),
        SensorAdded(S, Sensor(BELT, "belt")),
        Assigned(S, BELT, GUEST),
    ]
    return kit + [
        Notification(n * S + n * MS, BELT, HEART_RATE_MEASUREMENT, bytes((_WITH_ENERGY, BPM, n, 0)))
        for n in range(2, int(SECONDS))
    ]


def hub_session(path: Path) -> tuple[Live, list[str]]:
    """Run it; return the session and the snapshot lines of its ticks."""
    gym = gym_of(TRAININGS["over-the-line"], athletes=2, seed=3)
    lines: list[str] = []
    inflow, coming = HubInflow(), relayed()

    async def run() -> Live:
        loop = asyncio.get_running_loop()
        assert isinstance(loop, VirtualTimeLoop)

        def arrive() -> None:
            while coming and coming[0].t_ns + UNDER_WAY_NS <= loop.now_ns():
                inflow.put("gym-1", [coming.pop(0)])

        live = Live(
            gym.head,
            gym.plans,
            lambda: gym.radio(loop.now_ns),
            gym.registry,
            host=HOST,
            now_ns=loop.now_ns,
            chance=Random(5),
            clocks=lambda: Clocks(loop.now_ns(), loop.now_ns(), None),
            journal=Journal(path, gym.head, now_s=0.0),
            each_tick=lambda session: lines.append(snapshot_line(session.snapshot())),
            inflow=inflow,
        )
        live.on_step(arrive)
        task = asyncio.create_task(live.run())
        await asyncio.wait({task}, timeout=SECONDS)
        task.cancel()
        await asyncio.wait({task})
        assert task.cancelled()
        return live

    return run_virtually(run()), lines


@pytest.fixture(scope="module")
def session(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Live, list[str]]:
    path = tmp_path_factory.mktemp("hub") / "hub.jsonl"
    return path, *hub_session(path)


def test_own_athletes_and_the_relays_are_on_one_screen(
    session: tuple[Path, Live, list[str]],
) -> None:
    _, live, _ = session
    assert live.latest is not None
    lanes = {lane.athlete: lane for lane in live.latest.lanes}

    assert set(lanes) == {"a1", "a2", GUEST}
    assert lanes[GUEST].state.heart_rate.bpm == BPM
    assert lanes["a1"].state.sites
    assert lanes["a1"].state.heart_rate.bpm not in (None, BPM)


def test_everything_is_written_down_once(session: tuple[Path, Live, list[str]]) -> None:
    path, _, _ = session
    events = list(open_recording(path).events())
    guest = [e for e in events if isinstance(e, Notification) and e.sensor == BELT]
    own = {e.sensor for e in events if isinstance(e, Notification)} - {BELT}

    sent = [e for e in relayed() if isinstance(e, Notification)]
    assert [e.payload for e in guest] == [e.payload for e in sent[: len(guest)]]
    assert len(guest) >= len(sent) - 1  # the last may still be on its way
    late_ns = [kept.t_ns - one.t_ns for kept, one in zip(guest, sent, strict=False)]
    assert min(late_ns) >= 0
    assert max(late_ns) < 100 * MS  # an own sensor had spoken meanwhile; time never runs back
    assert len(own) >= 4  # two athletes, a belt and an oximeter each
    assert [e.t_ns for e in events] == sorted(e.t_ns for e in events)


def test_a_replay_gives_the_live_lines_byte_for_byte(
    session: tuple[Path, Live, list[str]],
) -> None:
    path, _, lines = session
    recording = open_recording(path)
    again = list(snapshots_of(recording.head, recording.events()))

    assert len(lines) > SECONDS / 2
    assert again[: len(lines)] == lines
