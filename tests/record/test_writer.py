"""The journal: nothing lost that a disk could hold, and it says when the disk holds no more."""

import os
import stat
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from recorded_events import A_HEAD, beat
from small_disk import SmallDisk

from livemon.errors import RecordingError
from livemon.events import End, Head, Mark
from livemon.record.backlog import Backlog
from livemon.record.head import encode_head
from livemon.record.lines import encode_event
from livemon.record.reader import open_recording
from livemon.record.trouble import Problems
from livemon.record.writer import RETRY_S, Journal, JournalState

A_MARK = Mark(5_000_000, "m1", "a1", "bout start")
HEAD_BYTES = len(encode_head(A_HEAD)) + 1
LINE_BYTES = len(encode_event(beat(1))) + 1


def test_what_is_appended_is_in_the_file_at_once(tmp_path: Path) -> None:
    path = tmp_path / "r.jsonl"
    journal = Journal(path, A_HEAD, now_s=0.0)
    journal.append(beat(1), now_s=0.0)
    journal.append(A_MARK, now_s=0.1)

    opened = open_recording(path)  # nothing was closed or flushed
    assert opened.head == A_HEAD
    assert tuple(opened.events()) == (beat(1), A_MARK)
    assert journal.report.state is JournalState.RECORDING
    assert journal.report.problem is None
    journal.close(now_s=1.0)


def test_the_head_is_repeated_at_the_end(tmp_path: Path) -> None:
    path = tmp_path / "r.jsonl"
    journal = Journal(path, A_HEAD, now_s=0.0)
    journal.append(End(9), now_s=0.0)
    assert journal.close(now_s=0.0).state is JournalState.CLOSED

    head, event, copy = path.read_text().splitlines()
    assert head == copy == encode_head(A_HEAD)
    assert event == encode_event(End(9))


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps users apart by folder")
def test_nobody_else_may_read_it(tmp_path: Path) -> None:
    path = tmp_path / "r.jsonl"
    Journal(path, A_HEAD, now_s=0.0).close(now_s=0.0)

    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_what_a_person_did_is_forced_onto_the_disk_at_once(tmp_path: Path) -> None:
    woken: list[str] = []
    journal = Journal(
        tmp_path / "r.jsonl", A_HEAD, now_s=0.0, wake_sync=lambda: woken.append("now")
    )
    journal.append(beat(1), now_s=0.0)
    assert woken == []
    journal.append(A_MARK, now_s=0.0)
    assert woken == ["now"]
    journal.close(now_s=0.0)


def test_an_unfinished_line_from_before_is_kept_apart(tmp_path: Path) -> None:
    path = tmp_path / "r.jsonl"
    Journal(path, A_HEAD, now_s=0.0).append(beat(1), now_s=0.0)
    with path.open("ab") as torn:
        torn.write(encode_event(beat(2)).encode()[:30])

    journal = Journal(path, A_HEAD, now_s=9.0)
    journal.append(beat(3), now_s=9.0)
    journal.close(now_s=9.0)

    head, torn = encode_head(A_HEAD), encode_event(beat(2))[:30]
    lines = [head, encode_event(beat(1)), torn, head, encode_event(beat(3)), head]
    assert path.read_text() == "".join(f"{line}\n" for line in lines)
    opened = open_recording(path)
    assert tuple(opened.events()) == (beat(1), beat(3))
    assert opened.problems.bad == 1


@pytest.mark.parametrize("content", [b"my diary\n", encode_head(Head("2026", "x")).encode()])
def test_what_is_not_of_this_session_is_never_added_to(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "r.jsonl"
    path.write_bytes(content)

    with pytest.raises(RecordingError, match="something else"):
        Journal(path, A_HEAD, now_s=0.0)
    assert path.read_bytes() == content


def test_a_full_disk_is_told_at_once_and_what_comes_waits(tmp_path: Path) -> None:
    path, disk = tmp_path / "r.jsonl", SmallDisk(HEAD_BYTES + LINE_BYTES + LINE_BYTES // 2)
    journal = Journal(path, A_HEAD, now_s=0.0, write=disk.write)
    journal.append(beat(1), now_s=0.0)
    journal.append(beat(2), now_s=0.0)  # half of it fits

    assert journal.report.state is JournalState.NOT_RECORDING
    assert journal.report.problem == "the disk is full; make room"
    assert journal.report.waiting == 1
    assert path.read_bytes().endswith(b"\n")  # cut back to the last whole line
    assert tuple(open_recording(path).events()) == (beat(1),)

    disk.room = 10_000
    journal.tick(now_s=RETRY_S - 0.001)
    assert journal.report.state is JournalState.NOT_RECORDING
    journal.tick(now_s=RETRY_S)
    assert journal.report.state is JournalState.RECORDING
    assert journal.report.problem is None
    journal.append(beat(3), now_s=RETRY_S)

    opened = open_recording(path)
    assert tuple(opened.events()) == (beat(1), beat(2), beat(3))
    assert opened.problems == Problems()
    journal.close(now_s=RETRY_S)


def test_a_disk_that_is_full_from_the_start(tmp_path: Path) -> None:
    path, disk = tmp_path / "r.jsonl", SmallDisk(7)
    journal = Journal(path, A_HEAD, now_s=0.0, write=disk.write)
    journal.append(beat(1), now_s=0.0)
    assert journal.report.state is JournalState.NOT_RECORDING

    disk.room = 10_000
    journal.append(beat(2), now_s=RETRY_S)  # no tick needed where events come

    assert tuple(open_recording(path).events()) == (beat(1), beat(2))
    journal.close(now_s=RETRY_S)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
def test_the_kernels_own_full_device(tmp_path: Path) -> None:
    journal = Journal(Path("/dev/full"), A_HEAD, now_s=0.0)
    journal.append(beat(1), now_s=0.0)
    journal.tick(now_s=RETRY_S)

    assert journal.report.state is JournalState.NOT_RECORDING
    assert journal.report.problem == "the disk is full; make room"
    assert journal.close(now_s=99.0).waiting == 1


@pytest.mark.skipif(not Path("/dev/null").exists(), reason="this system has no /dev/null")
def test_what_cannot_be_forced_onto_the_disk_is_told(tmp_path: Path) -> None:
    """The null device takes every write, and refuses to be synced: the error of a failing disk."""
    journal = Journal(Path("/dev/null"), A_HEAD, now_s=0.0)
    journal.append(beat(1), now_s=0.0)
    journal.tick(now_s=0.5)
    assert journal.report.state is JournalState.RECORDING

    journal.sync()
    journal.tick(now_s=1.0)
    assert journal.report.state is JournalState.NOT_RECORDING
    assert journal.report.problem == "invalid argument"
    journal.close(now_s=1.0)


def test_beyond_the_limit_sensors_are_dropped_and_people_are_not(tmp_path: Path) -> None:
    path, disk = tmp_path / "r.jsonl", SmallDisk(HEAD_BYTES)
    journal = Journal(path, A_HEAD, now_s=0.0, write=disk.write, backlog=Backlog(limit_lines=3))
    for number in range(1, 6):
        journal.append(beat(number), now_s=0.0)
    journal.append(A_MARK, now_s=0.0)
    assert (journal.report.waiting, journal.report.lost) == (4, 2)

    disk.room = 10_000
    journal.tick(now_s=RETRY_S)
    disk.room = 0
    journal.append(beat(6), now_s=RETRY_S)
    disk.room = 10_000
    journal.close(now_s=RETRY_S)  # closing is a last try, whatever the clock says

    opened = open_recording(path)
    assert tuple(opened.events()) == (beat(1), beat(2), beat(3), A_MARK, beat(6))
    assert opened.problems.lost == 2
    assert opened.problems.bad == 0


def test_a_recording_deleted_while_it_runs_is_told_and_begun_anew(tmp_path: Path) -> None:
    path = tmp_path / "r.jsonl"
    journal = Journal(path, A_HEAD, now_s=0.0)
    journal.append(beat(1), now_s=0.0)
    path.unlink()
    journal.tick(now_s=1.0)
    assert journal.report.state is JournalState.NOT_RECORDING
    assert "deleted" in str(journal.report.problem)

    journal.append(beat(2), now_s=1.5)
    journal.tick(now_s=1.0 + RETRY_S)
    journal.close(now_s=20.0)

    opened = open_recording(path)
    assert opened.head == A_HEAD
    assert tuple(opened.events()) == (beat(2),)


def test_a_place_that_cannot_be_written_to_is_refused_in_words(tmp_path: Path) -> None:
    with pytest.raises(RecordingError, match="it is a folder"):
        Journal(tmp_path, A_HEAD, now_s=0.0)
    with pytest.raises(RecordingError, match="there is no folder"):
        Journal(tmp_path / "none" / "r.jsonl", A_HEAD, now_s=0.0)


def test_a_closed_journal_takes_nothing_and_closes_again(tmp_path: Path) -> None:
    journal = Journal(tmp_path / "r.jsonl", A_HEAD, now_s=0.0)
    journal.close(now_s=0.0)

    with pytest.raises(RecordingError, match="closed"):
        journal.append(beat(1), now_s=0.0)
    journal.sync()
    journal.tick(now_s=99.0)
    assert journal.close(now_s=0.0).state is JournalState.CLOSED


#: What happens to a disk: so much room from now on, so many events, so many seconds.
steps = st.lists(
    st.tuples(
        st.sampled_from([0, 1, 40, 79, 80, 200, 5_000]), st.integers(0, 6), st.integers(0, 12)
    ),
    max_size=12,
)


@example([(0, 1, 0), (40, 2, 10), (5_000, 1, 10), (79, 3, 0), (200, 1, 10)])
@given(steps)
def test_whatever_the_disk_does_all_events_are_there_in_order(
    tmp_path_factory: pytest.TempPathFactory, steps: list[tuple[int, int, int]]
) -> None:
    path, disk = tmp_path_factory.mktemp("r") / "r.jsonl", SmallDisk(10_000)
    journal, written, now_s = Journal(path, A_HEAD, now_s=0.0, write=disk.write), [], 0.0
    for room, events, seconds in steps:
        disk.room = room
        for _ in range(events):
            written.append(beat(len(written)))
            refused = disk.refused
            journal.append(written[-1], now_s=now_s)
            if disk.refused > refused:  # announced in the same call, not later
                assert journal.report.state is JournalState.NOT_RECORDING
        now_s += seconds
        journal.tick(now_s=now_s)
        whole = open_recording(path)
        read = list(whole.events())
        assert read == written[: len(read)]
        assert len(read) == len(written) - journal.report.waiting
        assert whole.problems == Problems()

    disk.room = 10_000
    journal.close(now_s=now_s)
    opened = open_recording(path)
    assert list(opened.events()) == written
    assert opened.problems == Problems()
