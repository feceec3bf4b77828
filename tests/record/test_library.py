"""The library: what is there, under what name, and what goes when it is deleted."""

import os
import sqlite3
from pathlib import Path

import pytest
from a_session import EVENTS, HEAD, session

from livemon.errors import RecordingError, UsageError
from livemon.events import Head
from livemon.record.library import Library, delete, rename, tag, what_goes
from livemon.record.reader import open_recording
from livemon.record.side_lines import About
from livemon.record.summary import Summary
from livemon.record.trouble import Problems

LATER = Head("2026-11-26T09:00:00+00:00", "q7", HEAD.athletes[:0])


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a folder of two recordings, something unreadable, and something else."""
    session(tmp_path / "2026-11-25T100000Z-aaaaaa.jsonl")
    session(tmp_path / "2026-11-26T090000Z-bbbbbb.jsonl", LATER, ())
    (tmp_path / "broken.jsonl").write_bytes(b"\x89PNG")
    (tmp_path / "notes.txt").write_text("no recording")
    return tmp_path


def test_lists_newest_first_and_what_cannot_be_read_too(folder: Path) -> None:
    newest, older, broken = Library(folder).summaries()

    assert newest.file == "2026-11-26T090000Z-bbbbbb.jsonl"
    assert older == Summary(
        file="2026-11-25T100000Z-aaaaaa.jsonl",
        size_bytes=(folder / "2026-11-25T100000Z-aaaaaa.jsonl").stat().st_size,
        started_utc="2026-11-25T10:00:00+00:00",
        session="k3f9",
        athletes=("Yan Invented", "Zoë Invented"),
        sensors=3,
        duration_s=301.0,
        bouts=1,
        marks=4,
        notifications=3,
        ended=True,
    )
    assert older.words() == (
        "2026-11-25 10:00 UTC, 5 min, Yan Invented, Zoë Invented; 1 bout, 4 marks, 3 packets "
        f"from 3 sensors (2026-11-25T100000Z-aaaaaa.jsonl, {older.size_bytes / 1e6:.1f} MB)"
    )
    assert broken.unreadable is not None
    assert "not a recording" in broken.words()


def test_counts_what_a_quick_look_can_see_of_damage(tmp_path: Path) -> None:
    path = session(tmp_path / "2026-11-25T100000Z-aaaaaa.jsonl")
    with path.open("ab") as damaged:
        damaged.write(b'{"t_ns":7,"type":"mark"\n{"type":"hologram"}\n{"unfin')

    (one,) = Library(tmp_path).summaries()
    assert (one.damaged, one.marks, one.ended) == (1, 4, True)


def test_a_session_that_was_killed_lasted_until_its_last_packet(tmp_path: Path) -> None:
    session(tmp_path / "2026-11-25T100000Z-aaaaaa.jsonl", HEAD, EVENTS[:-1])

    (one,) = Library(tmp_path).summaries()
    assert (one.duration_s, one.ended) == (300.0, False)


def test_an_empty_or_missing_folder_is_an_empty_library(tmp_path: Path) -> None:
    assert Library(tmp_path).summaries() == ()
    assert Library(tmp_path / "none").summaries() == ()


@pytest.mark.parametrize(
    "name", ["2026-11-25T100000Z-aaaaaa.jsonl", "2026-11-25", "aaaaaa", "Hall"]
)
def test_finds_by_file_beginning_short_id_or_title(folder: Path, name: str) -> None:
    path = folder / "2026-11-25T100000Z-aaaaaa.jsonl"
    rename(path, "Hall")

    assert Library(folder).find(name) == path
    assert Library(folder).find(str(path)) == path


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("2026", "2 recordings are called '2026': "),
        ("x", "no recording called 'x'"),
        ("", "called ''"),
    ],
)
def test_says_so_when_none_or_several_are_called_so(folder: Path, name: str, message: str) -> None:
    with pytest.raises(UsageError, match=message):
        Library(folder).find(name)


def test_title_and_tags_live_in_the_recording(folder: Path) -> None:
    path = folder / "2026-11-25T100000Z-aaaaaa.jsonl"
    before = path.read_bytes()
    rename(path, " Hall \n Tuesday ")
    tag(path, add=["class", "knee", " "])
    assert tag(path, add=["Class"], remove=["knee", "none"]) == About(
        "Hall Tuesday", ("Class", "class")
    )

    listed = Library(folder).summaries()[1]
    assert (listed.title, listed.tags) == ("Hall Tuesday", ("Class", "class"))
    assert path.read_bytes().startswith(before)  # appended, nothing rewritten
    opened = open_recording(path)
    assert tuple(opened.events()) == EVENTS
    assert opened.problems == Problems()


def test_what_goes_is_said_before_it_goes(folder: Path) -> None:
    path = folder / "2026-11-25T100000Z-aaaaaa.jsonl"
    assert "1 bout, 4 marks, 3 packets" in what_goes(path).words()

    delete(path)
    assert not path.exists()
    assert len(Library(folder).summaries()) == 2
    for change in (delete, what_goes, lambda gone: rename(gone, "x"), lambda gone: tag(gone)):
        with pytest.raises(RecordingError, match="no such file"):
            change(path)
    assert not path.exists()


@pytest.mark.parametrize(
    "damage",
    [
        pytest.param(lambda index: index.unlink(), id="gone"),
        pytest.param(lambda index: index.write_bytes(b"x" * 5_000), id="garbage"),
        pytest.param(lambda index: index.write_bytes(index.read_bytes()[:5_000]), id="cut off"),
        pytest.param(lambda index: (index.unlink(), index.mkdir()), id="a folder in its place"),
    ],
)
def test_an_index_is_never_the_truth(folder: Path, damage: object) -> None:
    library = Library(folder)
    before = library.summaries()
    assert callable(damage)
    damage(folder / "index.sqlite")

    assert library.summaries() == before
    assert library.summaries() == before
    index = folder / "index.sqlite"
    assert index.is_dir() or _kept(index) == 3  # made anew where it can be


def _kept(index: Path) -> int:
    base = sqlite3.connect(index)
    (count,) = base.execute("SELECT COUNT(*) FROM summary").fetchone()
    base.close()
    return int(count)


def test_the_index_notices_a_change_that_leaves_the_size_as_it_was(tmp_path: Path) -> None:
    path, library = session(tmp_path / "r.jsonl"), Library(tmp_path)
    library.summaries()
    path.write_text(path.read_text().replace("k3f9", "k3f0"))
    os.utime(path, ns=(1, 1))  # some file systems stamp too coarsely to tell two quick changes

    assert [one.session for one in library.summaries()] == ["k3f0"]


def test_the_index_notices_a_changed_file_and_forgets_a_deleted_one(folder: Path) -> None:
    library = Library(folder)
    library.summaries()
    session(folder / "2026-11-26T090000Z-bbbbbb.jsonl", HEAD, EVENTS)
    (folder / "broken.jsonl").unlink()

    assert [one.bouts for one in library.summaries()] == [1, 1]
    assert library.rebuild() == library.summaries()


def test_a_list_is_read_from_the_index_where_nothing_changed(folder: Path) -> None:
    """Proved by an index that tells something else than the unchanged file."""
    library = Library(folder)
    library.summaries()
    with sqlite3.connect(folder / "index.sqlite") as base:
        base.execute("UPDATE summary SET summary = replace(summary, 'k3f9', 'told')")
    base.close()

    assert {one.session for one in library.summaries()} == {"told", "q7", ""}
    assert {one.session for one in library.rebuild()} == {"k3f9", "q7", ""}
