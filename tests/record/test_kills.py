"""Killed at any moment: what was recorded is in the file, which opens and can be added to."""

import signal
import subprocess
import sys
from pathlib import Path
from random import Random

import pytest
from recorded_events import A_HEAD, beat

from livemon.events import Notification
from livemon.record.reader import Recording, open_recording
from livemon.record.writer import Journal

CHILD = Path(__file__).parent / "journal_child.py"
KILLS = 10


def killed(path: Path, first: int, after_events: int) -> list[int]:
    """Let a child record, kill it after so many events; return the numbers it had recorded."""
    command = [sys.executable, str(CHILD), str(path), str(first), "0"]
    with subprocess.Popen(command, stdout=subprocess.PIPE) as child:
        assert child.stdout is not None
        said = child.stdout.read(4 * after_events)
        child.send_signal(signal.SIGKILL)
        said += child.stdout.read()
    whole = len(said) // 4 * 4
    return [int.from_bytes(said[i : i + 4], "big") for i in range(0, whole, 4)]


def numbers(opened: Recording) -> list[int]:
    return [
        int.from_bytes(event.payload, "big")
        for event in opened.events()
        if isinstance(event, Notification)
    ]


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="Windows has no SIGKILL")
def test_kills_lose_nothing_that_was_recorded(tmp_path: Path) -> None:
    """All kills hit the same file, so each start also proves that adding to it is clean."""
    path, random, recorded = tmp_path / "r.jsonl", Random(1), []
    for _ in range(KILLS):
        recorded += killed(path, len(recorded) + 1_000, random.randint(1, 2_000))
        # A line may have been written that the child did not live to tell of.
        opened = open_recording(path)
        found = numbers(opened)
        assert opened.head == A_HEAD
        assert set(recorded) <= set(found)
        assert len(found) - len(recorded) <= KILLS

    journal = Journal(path, A_HEAD, now_s=0.0)
    journal.append(beat(7), now_s=0.0)
    journal.close(now_s=0.0)
    opened = open_recording(path)
    assert numbers(opened)[-1] == 7
    assert opened.problems.bad <= KILLS
    assert not opened.problems.unfinished
