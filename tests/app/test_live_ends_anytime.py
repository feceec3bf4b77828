"""A session may be closed at any moment: while it links, waits for its next try, has no disk."""

import asyncio
import errno
import os
from collections.abc import Callable
from pathlib import Path

import pytest
from live_gym import live_of, virtual_time

from livemon.app.gym import Mishap, gym_of
from livemon.events import End, LinkDown, LinkUp
from livemon.link.simulated.faults import Fault
from livemon.link.simulated.virtual_loop import run_virtually
from livemon.record.reader import open_recording
from livemon.record.writer import Journal
from livemon.synthetic.sessions import OVER_THE_LINE

#: The window waits no longer than that for the session's end; ours.
ENDS_WITHIN_S = 8.0


def full(descriptor: int, data: bytes) -> int:
    raise OSError(errno.ENOSPC, "No space left on device")


@pytest.mark.parametrize("closed_s", [0.05, 2.0, 12.1, 21.0])
@pytest.mark.parametrize("fault", [Fault.OPENING_HANGS, Fault.OPENING_FAILS, Fault.CLOSING_HANGS])
@pytest.mark.parametrize("write", [os.write, full], ids=["disk", "full disk"])
def test_it_ends_soon_and_leaves_nothing_behind(
    tmp_path: Path, fault: Fault, closed_s: float, write: Callable[[int, bytes], int]
) -> None:
    path = tmp_path / "session.jsonl"
    gym = gym_of(OVER_THE_LINE, 1, 3, (Mishap(fault, "strap", at_s=10.0, for_s=60.0),))
    now = {"write": os.write}

    async def run() -> float:
        loop = virtual_time()
        live = live_of(
            gym,
            loop,
            journal=Journal(path, gym.head, now_s=0.0, write=lambda *args: now["write"](*args)),
        )
        running = asyncio.create_task(live.run())
        await asyncio.sleep(closed_s / 2)
        now["write"] = write
        await asyncio.sleep(closed_s / 2)
        running.cancel()
        await asyncio.wait({running})
        assert asyncio.all_tasks() == {asyncio.current_task()}
        return loop.time() - closed_s

    assert run_virtually(run()) < ENDS_WITHIN_S
    recording = open_recording(path)
    events = list(recording.events())
    assert recording.problems.bad == 0
    if write is os.write:
        assert isinstance(events[-1], End)
        ups, downs = (
            sorted(one.sensor for one in events if isinstance(one, kind))
            for kind in (LinkUp, LinkDown)
        )
        assert ups == downs
