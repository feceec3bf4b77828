"""The kernel itself refuses: through a limit on file sizes, and on a tiny file system."""

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from recorded_events import A_HEAD, beat

from livemon.record.reader import open_recording
from livemon.record.trouble import Problems
from livemon.record.writer import RETRY_S, Journal, JournalState

CHILD = Path(__file__).parent / "full_disk_child.py"


@pytest.mark.skipif(os.name == "nt", reason="Windows knows no limit on file sizes")
def test_a_file_that_may_not_grow_any_more(tmp_path: Path) -> None:
    """The kernel stores part of a line and says so by its count only, then refuses."""
    path = tmp_path / "r.jsonl"
    done = subprocess.run(
        [sys.executable, str(CHILD), str(path)], check=True, capture_output=True, text=True
    )

    first, second, third, last = json.loads(done.stdout)
    for state, problem, size in (first, second, third):
        assert state == "not recording"
        assert "make room" in problem
        assert size <= 20_000
    assert last[:2] == ["recording", None]
    opened = open_recording(path)
    assert list(opened.events()) == [beat(number) for number in range(600)]
    assert opened.problems == Problems()


@pytest.fixture
def tiny_disk(tmp_path: Path) -> Iterator[Path]:
    """Mount a file system of 256 kB."""
    mount = shutil.which("mount")
    if mount is None or not hasattr(os, "geteuid") or os.geteuid() != 0:
        pytest.skip("only root can mount a tiny file system; the limit on file sizes stands for it")
    place = tmp_path / "tiny"
    place.mkdir()
    made = subprocess.run(
        [mount, "-t", "tmpfs", "-o", "size=256k", "none", str(place)],
        check=False, capture_output=True,
    )  # fmt: skip
    if made.returncode:
        pytest.skip("this machine does not let root mount a tmpfs, as in many containers")
    yield place
    subprocess.run(["umount", str(place)], check=True)


def test_a_disk_that_somebody_fills_and_empties_again(tiny_disk: Path) -> None:
    path, hog = tiny_disk / "r.jsonl", tiny_disk / "hog"
    journal = Journal(path, A_HEAD, now_s=0.0)
    number = 0
    while journal.report.state is JournalState.RECORDING:
        journal.append(beat(number), now_s=0.0)
        number += 1
        if number == 100:
            hog.write_bytes(bytes(200_000))
    assert 100 < number < 1_000  # 256 kB hold no more beside the hog

    assert journal.report.problem == "the disk is full; make room"
    assert len(list(open_recording(path).events())) == number - 1
    for _ in range(200):
        journal.append(beat(number), now_s=1.0)
        number += 1
    hog.unlink()
    journal.tick(now_s=RETRY_S)
    assert journal.report.state is JournalState.RECORDING
    journal.append(beat(number), now_s=RETRY_S)
    journal.close(now_s=RETRY_S)

    opened = open_recording(path)
    assert list(opened.events()) == [beat(n) for n in range(number + 1)]
    assert opened.problems == Problems()
