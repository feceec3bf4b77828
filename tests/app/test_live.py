"""A live session on the simulated radio: written down, and replayed to the same bytes."""

import asyncio
from pathlib import Path

import pytest
from live_gym import live_of, virtual_time

from livemon.app.gym import gym_of
from livemon.app.headless import snapshots_of
from livemon.app.live import Live
from livemon.app.replay import Replay
from livemon.errors import RadioError
from livemon.events import End, Event, Mark, Notification
from livemon.link.simulated.virtual_loop import run_virtually
from livemon.monitor.payload import snapshot_line
from livemon.monitor.session import Session
from livemon.record.reader import open_recording
from livemon.record.writer import Journal
from livemon.synthetic.sessions import TRAININGS

SECONDS = 200.0


def live_session(
    path: Path | None, training: str, seconds: float, *, give_up_s: float | None = None
) -> tuple[Live, list[str]]:
    """Run a live session on virtual time; return it and the snapshot lines of its ticks."""
    gym = gym_of(TRAININGS[training], athletes=2, seed=3)
    lines: list[str] = []
    journal = None if path is None else Journal(path, gym.head, now_s=0.0)

    async def run() -> Live:
        loop = virtual_time()
        live = live_of(
            gym,
            loop,
            journal=journal,
            each_tick=lambda session: lines.append(snapshot_line(session.snapshot())),
            give_up_s=give_up_s,
        )
        task = asyncio.create_task(live.run())
        await asyncio.wait({task}, timeout=seconds / 2)
        if not task.done():
            live.mark("a1", "bout_start", (("work", "rowing"),))
            live.mark("a2", "note", (("text", "slow start"),))
            live.undo()
            await asyncio.wait({task}, timeout=seconds / 2)
        task.cancel()
        await asyncio.wait({task})
        if not task.cancelled() and (error := task.exception()) is not None:
            raise error
        return live

    return run_virtually(run()), lines


@pytest.mark.parametrize("training", ["over-the-line", "trouble"])
def test_a_replay_gives_the_live_lines_byte_for_byte(tmp_path: Path, training: str) -> None:
    path = tmp_path / "session.jsonl"
    _, lines = live_session(path, training, SECONDS)

    recording = open_recording(path)
    assert list(snapshots_of(recording.head, recording.events())) == lines
    assert recording.problems.bad == 0
    assert len(lines) == SECONDS * 2


def test_every_pace_gives_the_same_lines(tmp_path: Path) -> None:
    """At one speed, changed in the middle, held for a while, or as fast as can be."""
    path = tmp_path / "session.jsonl"
    _, lines = live_session(path, "over-the-line", 60.0)

    def lines_at(speed: float | None) -> list[str]:
        recording, got = open_recording(path), list[str]()
        session = Session(
            recording.head, each_tick=lambda s: got.append(snapshot_line(s.snapshot()))
        )

        async def play() -> None:
            loop = asyncio.get_running_loop()
            replay = Replay(session, recording.events(), speed=speed, now_s=loop.time)
            task = asyncio.create_task(replay.run())
            await asyncio.sleep(2)
            replay.set_paused(True)
            await asyncio.sleep(1)
            replay.set_paused(False)
            if speed is not None:
                replay.set_speed(speed * 3)
            await task

        run_virtually(play())
        return got

    assert lines_at(1.0) == lines
    assert lines_at(7.5) == lines
    assert lines_at(None) == lines


def test_what_is_recorded_is_whole(tmp_path: Path) -> None:
    """Notifications of every sensor, the marks, what was taken back, and the end."""
    path = tmp_path / "session.jsonl"
    live, _ = live_session(path, "over-the-line", 40.0)

    events: list[Event] = list(open_recording(path).events())
    senders = {event.sensor for event in events if isinstance(event, Notification)}
    marks = [event for event in events if isinstance(event, Mark)]
    assert len(senders) == 6
    assert [mark.kind for mark in marks] == ["bout_start", "note", "withdrawn"]
    assert marks[2].replaces == marks[1].mark
    assert isinstance(events[-1], End)
    assert [event.t_ns for event in events] == sorted(event.t_ns for event in events)
    assert live.latest is not None
    assert live.latest.ended
    assert live.latest.lanes[0].bout is not None
    assert live.latest.lanes[1].bout is None


def test_nothing_from_any_sensor_ends_with_words_about_each() -> None:
    with pytest.raises(RadioError, match=r"nothing came .* 1-strap: .* 2-forearm: "):
        live_session(None, "over-the-line", 60.0, give_up_s=0.1)
