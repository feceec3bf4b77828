"""A disk that fills up while people train: told at once, nothing lost, and the screen goes on."""

import asyncio
import errno
import os
from pathlib import Path

from live_gym import live_of, virtual_time

from livemon.app.gym import gym_of
from livemon.app.headless import snapshots_of
from livemon.link.simulated.virtual_loop import run_virtually
from livemon.monitor.payload import snapshot_line
from livemon.record.reader import open_recording
from livemon.record.writer import Journal, JournalState
from livemon.synthetic.sessions import OVER_THE_LINE

FULL_S, ROOM_S, END_S = 20.0, 45.0, 70.0


class Disk:
    """Takes what it is given as long as there is room; then part of a line, then nothing."""

    def __init__(self) -> None:
        self.full = False

    def write(self, descriptor: int, data: bytes) -> int:
        if not self.full:
            return os.write(descriptor, data)
        if len(data) > 40:
            return os.write(descriptor, data[:20])
        raise OSError(errno.ENOSPC, "No space left on device")


def test_the_session_goes_on_and_the_recording_is_whole_in_the_end(tmp_path: Path) -> None:
    path, disk = tmp_path / "session.jsonl", Disk()
    gym = gym_of(OVER_THE_LINE, 2, seed=3)
    lines: list[str] = []
    told: dict[float, JournalState] = {}
    seen_at: list[float] = []

    async def run() -> None:
        loop = virtual_time()
        journal = Journal(path, gym.head, now_s=0.0, write=disk.write)
        live = live_of(
            gym,
            loop,
            journal=journal,
            each_tick=lambda session: lines.append(snapshot_line(session.snapshot())),
        )
        task = asyncio.create_task(live.run())
        while loop.time() < END_S:
            disk.full = FULL_S <= loop.time() < ROOM_S
            await asyncio.wait({task}, timeout=0.5)
            told[loop.time()] = journal.report.state
            assert live.latest is not None
            seen_at.append(loop.time() - live.latest.t_s)
        task.cancel()
        await asyncio.wait({task})

    run_virtually(run())

    stopped = [at for at, state in told.items() if state is JournalState.NOT_RECORDING]
    assert FULL_S <= min(stopped) <= FULL_S + 1.0
    assert ROOM_S - 1.0 <= max(stopped) <= ROOM_S + 10.0, "tried again each ten seconds"
    assert max(seen_at) < 1.0, "what is shown is never old"
    opened = open_recording(path)
    assert list(snapshots_of(opened.head, opened.events())) == lines
    assert opened.problems.bad == 0
