"""However a session is ended, its recording is whole and its sensors are free."""

import os
import signal
import subprocess
import sys
from itertools import islice
from pathlib import Path

import pytest

from livemon.events import End, LinkDown, LinkUp, Notification
from livemon.record.reader import open_recording

pytestmark = pytest.mark.skipif(os.name == "nt", reason="Windows has no such signals")


def ended_by(number: signal.Signals, path: Path) -> int:
    """Run a simulated session until data were written, end it, return its exit code."""
    words = ["simulate", "--no-window", "--every", "0.5", "--record", str(path)]
    with subprocess.Popen(
        [sys.executable, "-m", "livemon", *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    ) as process:
        assert process.stdout is not None
        lines = islice(process.stdout, 60)  # one comes every half a second
        shown = any("HR –" not in line for line in lines)
        process.send_signal(number if shown else signal.SIGKILL)
        process.stdout.read()
        assert shown
        return process.wait(20)


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM], ids=["Ctrl-C", "SIGTERM"])
def test_a_session_told_to_end_ends_in_good_order(tmp_path: Path, number: signal.Signals) -> None:
    path = tmp_path / "session.jsonl"

    assert ended_by(number, path) == 0

    recording = open_recording(path)
    events = list(recording.events())
    assert isinstance(events[-1], End)
    up = [event.sensor for event in events if isinstance(event, LinkUp)]
    assert up
    assert sorted(e.sensor for e in events if isinstance(e, LinkDown)) == sorted(up)
    assert recording.problems.words() == ""


def test_a_killed_session_leaves_a_recording_that_opens(tmp_path: Path) -> None:
    path = tmp_path / "session.jsonl"

    assert ended_by(signal.SIGKILL, path) == -signal.SIGKILL

    events = list(open_recording(path).events())
    assert any(isinstance(event, Notification) for event in events)
    assert not any(isinstance(event, End) for event in events)
