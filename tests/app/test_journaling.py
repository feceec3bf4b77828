"""What a session says of its own recording, and that its name is on the disk."""

import resource
import signal
import sys
from pathlib import Path

import pytest

from livemon.app.journaling import Journaling, Room
from livemon.errors import RecordingError
from livemon.events import Head, Mark, Notification
from livemon.record.backlog import LIMIT_LINES
from livemon.record.place import LOW_BYTES
from livemon.record.reader import open_recording
from livemon.record.warning_lines import Happened, WarningLine
from livemon.record.warning_log import warning_log

HEAD = Head("2026-11-25T10:00:00+00:00", "k3f9", (), ())
HEART_RATE = "00002a37-0000-1000-8000-00805f9b34fb"


def beat(number: int) -> Notification:
    return Notification(number, "belt", HEART_RATE, b"\x06\x3c")


def plenty(folder: Path) -> int:
    return LOW_BYTES


def test_while_all_is_well_it_only_says_that_it_records(tmp_path: Path) -> None:
    journal = Journaling(tmp_path / "r.jsonl", HEAD, free=plenty)
    journal.append(beat(1), now_s=0.0)
    assert journal.words() == "recording"

    journal.close(now_s=1.0)
    assert journal.words() == "recording closed"


def test_what_happened_to_warnings_stands_among_the_events(tmp_path: Path) -> None:
    path = tmp_path / "r.jsonl"
    journal = Journaling(path, HEAD)
    journal.append(beat(1), now_s=0.0)
    on = WarningLine(2, Happened.ON, "a1", "left thigh", "drain", 4.1, 24.0, 158.0)
    journal.note(on, now_s=0.0)
    journal.append(beat(3), now_s=0.0)
    journal.close(now_s=1.0)

    opened = open_recording(path)
    assert list(opened.events()) == [beat(1), beat(3)]
    assert opened.problems.bad == 0
    assert [entry.on for entry in warning_log(path)] == [on]


@pytest.mark.skipif(sys.platform == "win32", reason="Windows knows no limit on file sizes")
def test_a_full_disk_is_announced_with_what_waits_and_what_is_lost(tmp_path: Path) -> None:
    """The kernel refuses, through a limit on file sizes; the live view is never held up."""
    journal = Journaling(tmp_path / "r.jsonl", HEAD, free=plenty)
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    before = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (1_000, hard))
    try:
        for number in range(100):
            journal.append(beat(number), now_s=1.0)
        words = journal.words()
        assert words.startswith("NOT RECORDING: ")
        assert "make room" in words
        assert " lines kept in memory" in words
        assert "lost" not in words
        for number in range(100, LIMIT_LINES + 200):
            journal.append(beat(number), now_s=1.0)
        assert "events lost for good" in journal.words()
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
        signal.signal(signal.SIGXFSZ, before)
    journal.append(Mark(LIMIT_LINES + 200, "m1", None, "note"), now_s=20.0)
    assert journal.words().startswith("recording; ")
    assert journal.words().endswith("events lost for good")
    journal.close(now_s=21.0)


def test_a_disk_with_little_room_is_spoken_of_before_it_is_full(tmp_path: Path) -> None:
    journal = Journaling(tmp_path / "r.jsonl", HEAD, free=lambda _: 50_000_000)

    assert journal.words() == (
        "recording; only 50 MB free for recordings; make room until there are 200 MB"
    )
    journal.close(now_s=1.0)


def test_a_folder_that_goes_away_does_not_stop_the_session(tmp_path: Path) -> None:
    def gone(folder: Path) -> int:
        raise RecordingError(str(folder), "", "no such folder")

    journal = Journaling(tmp_path / "r.jsonl", HEAD, free=gone)
    assert journal.words() == "recording"
    journal.close(now_s=1.0)


def test_the_room_is_looked_at_again_each_minute(tmp_path: Path) -> None:
    free = [LOW_BYTES]
    room = Room(tmp_path, lambda _: free[0])
    free[0] = 50_000_000
    for _ in range(59):
        room.synced()
    assert room.low is None
    room.synced()
    assert room.low is not None

    free[0] = LOW_BYTES
    for _ in range(60):
        room.synced()
    assert room.low is None
