"""The hub's copies of relays' recordings: whole, in order, and recordings like any other."""

import os
from pathlib import Path

from hypothesis import example, given
from hypothesis import strategies as st

from livemon.app.hub_copies import HubCopies
from livemon.events import Head, LinkUp
from livemon.net.hub import Source
from livemon.record.head import encode_head
from livemon.record.library import Library, rename
from livemon.record.lines import encode_event
from livemon.record.reader import open_recording

SOURCE = Source("gym-1", "s1")
HEAD = Head("2026-03-02T17:30:00+00:00", "s1")


def lines(first: int, count: int) -> tuple[bytes, ...]:
    return tuple(encode_event(LinkUp(n, "gym-1.s")).encode() for n in range(first, first + count))


def test_a_copy_is_a_recording_and_counted_again_after_a_restart(tmp_path: Path) -> None:
    copies = HubCopies(tmp_path)
    copies.head(SOURCE, encode_head(HEAD))
    assert copies.stored(SOURCE) == 0
    assert copies.keep(SOURCE, lines(1, 3))
    assert copies.keep(SOURCE, lines(4, 2))
    copies.close()

    (summary,) = Library(tmp_path).summaries()
    recording = open_recording(tmp_path / summary.file)
    assert recording.head == HEAD
    assert [event.t_ns for event in recording.events()] == [1, 2, 3, 4, 5]
    assert HubCopies(tmp_path).stored(SOURCE) == 5


def test_a_title_that_somebody_gave_does_not_count(tmp_path: Path) -> None:
    copies = HubCopies(tmp_path)
    copies.keep(SOURCE, lines(1, 3))
    copies.close()
    (path,) = tmp_path.iterdir()
    path.write_bytes(encode_head(HEAD).encode() + b"\n" + path.read_bytes())
    rename(path, "Hall, Tuesday")

    assert HubCopies(tmp_path).stored(SOURCE) == 3


def test_a_line_that_was_cut_off_by_a_power_cut_is_taken_away(tmp_path: Path) -> None:
    copies = HubCopies(tmp_path)
    copies.keep(SOURCE, lines(1, 3))
    copies.close()
    (path,) = tmp_path.iterdir()
    os.truncate(path, path.stat().st_size - 5)

    again = HubCopies(tmp_path)
    assert again.stored(SOURCE) == 2
    assert again.keep(SOURCE, lines(3, 1))
    assert HubCopies(tmp_path).stored(SOURCE) == 3


@example([b'{"livemon":1}', b'{"type":"about","title":""}', b"\xff", b"a\rb", b""])
@given(st.lists(st.binary(max_size=60).map(lambda b: b.replace(b"\n", b"")), min_size=1))
def test_whatever_a_line_holds_it_counts_as_one(tmp_path_factory, some: list[bytes]) -> None:
    folder = tmp_path_factory.mktemp("copies")
    copies = HubCopies(folder)
    copies.keep(SOURCE, tuple(some))
    copies.close()

    assert HubCopies(folder).stored(SOURCE) == len(some)


def test_a_disk_that_refuses_is_told_and_tried_again(tmp_path: Path) -> None:
    folder = tmp_path / "copies"
    folder.write_text("a file where the folder should be")
    copies = HubCopies(folder)
    assert not copies.keep(SOURCE, lines(1, 3))
    assert copies.problem
    folder.unlink()

    assert copies.keep(SOURCE, lines(1, 3))
    assert copies.problem == ""
    copies.close()


def test_more_recordings_than_may_be_open_are_kept_all_the_same(tmp_path: Path) -> None:
    copies = HubCopies(tmp_path)
    sources = [Source(f"r{n}", "s") for n in range(100)]
    for first in (1, 2):
        for source in sources:
            assert copies.keep(source, lines(first, 1))
    copies.close()

    assert {HubCopies(tmp_path).stored(source) for source in sources} == {2}
