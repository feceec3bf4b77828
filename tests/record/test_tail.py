"""Reading a recording while it is being written."""

from pathlib import Path
from threading import Thread

import pytest
from hypothesis import given
from hypothesis import strategies as st
from recorded_events import A_HEAD, EACH_KIND, beat

from livemon.errors import RecordingError
from livemon.record.head import encode_head
from livemon.record.lines import encode_event
from livemon.record.reader import open_recording
from livemon.record.tail import Tail
from livemon.record.trouble import Problems
from livemon.record.writer import Journal

EVENTS = tuple(event for event, _ in EACH_KIND)


@given(sizes=st.lists(st.integers(1, 200), min_size=1))
def test_gives_each_event_once_however_the_file_grows(
    sizes: list[int], tmp_path_factory: pytest.TempPathFactory
) -> None:
    path = tmp_path_factory.mktemp("r") / "r.jsonl"
    path.write_text(encode_head(A_HEAD) + "\n")
    body = "".join(encode_event(event) + "\n" for event in EVENTS).encode()
    tail, read, at = Tail(path), [], 0
    with path.open("ab", buffering=0) as growing:
        while at < len(body):
            size = sizes[at % len(sizes)]
            growing.write(body[at : at + size])
            at += size
            read += tail.poll()

    assert tail.head == A_HEAD
    assert tuple(read) == EVENTS
    assert tail.poll() == ()
    assert tail.problems == Problems()
    tail.close()


def test_reads_along_with_a_journal_that_writes_as_fast_as_it_can(tmp_path: Path) -> None:
    path, count = tmp_path / "r.jsonl", 5_000
    journal = Journal(path, A_HEAD, now_s=0.0)

    def write() -> None:
        for number in range(count):
            journal.append(beat(number), now_s=0.0)
        journal.close(now_s=0.0)

    writer, tail, read = Thread(target=write), Tail(path), []
    writer.start()
    while writer.is_alive():
        read += tail.poll()
        so_far = open_recording(path)
        assert [*so_far.events()][: len(read)] == read
        assert so_far.problems.bad == 0
    read += tail.poll()

    assert read == [beat(number) for number in range(count)]
    assert tail.problems == Problems()
    tail.close()


def test_tells_which_line_it_could_not_read(tmp_path: Path) -> None:
    path = tmp_path / "r.jsonl"
    path.write_text(f"{encode_head(A_HEAD)}\n{encode_event(beat(1))}\n?\n")
    tail = Tail(path)

    assert tail.poll() == (beat(1),)
    assert [bad.number for bad in tail.problems.first_bad] == [3]
    tail.close()


def test_a_missing_file_is_refused(tmp_path: Path) -> None:
    with pytest.raises(RecordingError, match="no such file"):
        Tail(tmp_path / "none.jsonl")
