"""The loop that reads the sensors never waits for a disk, a lock, a name server or a nap.

A wait there delays the time stamps of every athlete. Timings depend on the machine, so the calls
themselves are looked for: Python tells a profile function of each call into C. How late the loop
gets all the same is measured by benchmarks/loop.py.
"""

import asyncio
import os
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType
from typing import Final

import pytest
from live_gym import live_of, virtual_time

from livemon.app.gym import Mishap, gym_of
from livemon.app.journaling import Journaling
from livemon.app.remembered import save_sensors
from livemon.link.simulated.faults import Fault
from livemon.link.simulated.virtual_loop import run_virtually
from livemon.record.reader import open_recording
from livemon.synthetic.sessions import OVER_THE_LINE

#: What may wait for something outside the loop, by its name in C.
WAITS: Final = {
    "sleep", "fsync", "fdatasync", "system", "waitpid", "getaddrinfo", "gethostbyname",
    "lock.acquire", "RLock.acquire", "SimpleQueue.get", "socket.connect", "socket.sendall",
}  # fmt: skip


@contextmanager
def watched() -> Iterator[list[str]]:
    """Note every call of this thread that waits, with the line that makes it."""
    found: list[str] = []

    def look(frame: FrameType, event: str, called: object) -> None:
        name = getattr(called, "__qualname__", "")
        # threading.Condition asks there whether its lock is taken, and does not wait for it.
        if event == "c_call" and name in WAITS and frame.f_code.co_name != "_is_owned":
            found.append(f"{frame.f_code.co_filename}:{frame.f_lineno}")

    before = sys.getprofile()
    sys.setprofile(look)
    try:
        yield found
    finally:
        sys.setprofile(before)


@pytest.mark.parametrize(
    "wait",
    [lambda _: time.sleep(0), lambda file: os.fsync(file)],
    ids=["a nap", "the disk"],
)
def test_a_wait_is_noticed(tmp_path: Path, wait: Callable[[int], object]) -> None:
    with (tmp_path / "file").open("w") as file, watched() as found:
        wait(file.fileno())

    assert [Path(line.rpartition(":")[0]).name for line in found] == [Path(__file__).name]


def test_a_session_with_faults_marks_and_a_recording_waits_for_nothing(tmp_path: Path) -> None:
    mishaps = (
        Mishap(Fault.DROP, "1-strap", 20.0, 5.0),
        Mishap(Fault.ZOMBIE, "2-strap", 25.0, 20.0),
    )
    gym = gym_of(OVER_THE_LINE, athletes=4, seed=3, mishaps=mishaps)

    async def run() -> list[str]:
        loop = virtual_time()
        live = live_of(
            gym,
            loop,
            journal=Journaling(tmp_path / "session.jsonl", gym.head),
            on_learned=lambda registry: save_sensors(tmp_path, registry),
        )
        running = asyncio.create_task(live.run())
        with watched() as found:
            await asyncio.sleep(30)
            live.mark(gym.head.athletes[0].athlete, "bout_start", ())
            live.undo()
            await asyncio.sleep(30)
        running.cancel()
        await asyncio.wait({running})
        return found

    assert run_virtually(run()) == []
    assert open_recording(tmp_path / "session.jsonl").problems.bad == 0
