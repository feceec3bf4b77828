"""Whatever has happened to the file: what can be read is read, the rest is counted."""

import errno
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from recorded_events import A_HEAD, EACH_KIND, beat

from livemon.errors import RecordingError
from livemon.events import Assigned, End, Event
from livemon.record.chunks import LineCutter
from livemon.record.disk import words
from livemon.record.head import NewerVersion, encode_head
from livemon.record.lines import encode_event
from livemon.record.reader import open_recording
from livemon.record.trouble import BadLine, Problems

S = 1_000_000_000
HEAD = encode_head(A_HEAD).encode()
EVENTS = tuple(event for event, _ in EACH_KIND)
LINES = [encode_event(event).encode() for event in EVENTS]


def recording(folder: Path, *lines: bytes, end: bytes = b"\n", joint: bytes = b"\n") -> Path:
    """Write a file of these lines."""
    path = folder / "r.jsonl"
    path.write_bytes(joint.join(lines) + end)
    return path


def test_reads_head_and_events(tmp_path: Path) -> None:
    opened = open_recording(recording(tmp_path, HEAD, *LINES))

    assert opened.head == A_HEAD
    assert tuple(opened.events()) == EVENTS
    assert tuple(opened.events()) == EVENTS  # as often as wanted
    assert opened.problems == Problems()
    assert opened.problems.words() == ""


@pytest.mark.parametrize("name", sorted(p.name for p in (Path(__file__).parent / "old").iterdir()))
def test_recordings_of_older_versions_are_read(name: str) -> None:
    """These files were written by the version in their name and must never be written anew."""
    opened = open_recording(Path(__file__).parent / "old" / name)

    assert opened.head == A_HEAD
    assert tuple(opened.events()) == tuple(event for event in EVENTS if not is_later(event))
    assert opened.problems == Problems()


def is_later(event: Event) -> bool:
    """Tell what came into the format after the files in `old` were written."""
    return isinstance(event, Assigned) and event.wheel_m is not None


@pytest.mark.parametrize(
    "path_of",
    [
        pytest.param(
            lambda folder: recording(folder, HEAD, *LINES, joint=b"\r\n", end=b"\r\n"), id="CRLF"
        ),
        pytest.param(
            lambda folder: recording(folder, b"\xef\xbb\xbf" + HEAD, *LINES), id="byte order mark"
        ),
        pytest.param(lambda folder: recording(folder, HEAD, b"", *LINES, b" \t"), id="empty lines"),
        pytest.param(
            lambda folder: recording(folder, HEAD, *LINES[:3], HEAD, *LINES[3:], HEAD),
            id="the head repeated",
        ),
        pytest.param(
            lambda folder: recording(folder, HEAD, *LINES, b'{"type":"about","title":"Hall"}'),
            id="a title",
        ),
    ],
)
def test_harmless_oddities_are_no_damage(path_of: "type[Path]", tmp_path: Path) -> None:
    opened = open_recording(path_of(tmp_path))

    assert opened.head == A_HEAD
    assert tuple(opened.events()) == EVENTS
    assert opened.problems == Problems()


def test_an_unfinished_last_line_is_no_damage(tmp_path: Path) -> None:
    opened = open_recording(recording(tmp_path, HEAD, *LINES, LINES[0][:20], end=b""))

    assert tuple(opened.events()) == EVENTS
    assert opened.problems == Problems(unfinished=True)


def test_bad_lines_are_skipped_and_told_with_number_and_reason(tmp_path: Path) -> None:
    path = recording(tmp_path, HEAD, LINES[0], b'{"t_ns":7,"type":"data"', LINES[1], b"\x00\xff")
    opened = open_recording(path)

    assert tuple(opened.events()) == EVENTS[:2]
    assert opened.problems.bad == 2
    assert opened.problems.first_bad == (
        BadLine(3, "not JSON at character 24: Expecting ',' delimiter"),
        BadLine(5, "byte 2 is not text"),
    )
    assert opened.problems.words() == (
        "2 lines unreadable (line 3: not JSON at character 24: Expecting ',' delimiter)"
    )


def test_one_time_far_ahead_of_both_neighbours_is_damage(tmp_path: Path) -> None:
    """A flipped digit is still JSON, and would carry the session hours ahead."""
    near = [encode_event(End(n * S)).encode() for n in (1, 2, 3, 4)]
    flipped = encode_event(End(9_000_000 * S)).encode()
    opened = open_recording(recording(tmp_path, HEAD, *near[:2], flipped, *near[2:]))

    assert list(opened.events()) == [End(n * S) for n in (1, 2, 3, 4)]
    assert opened.problems.first_bad == (BadLine(4, "t_ns: far ahead of the lines around it"),)


@pytest.mark.parametrize(
    "times_s",
    [
        pytest.param([1, 61, 1], id="a minute ahead, as another machine might be"),
        pytest.param([1, 2, 9_000, 9_001], id="a pause"),
        pytest.param([9_000, 9_001, 1, 2], id="a clock begun anew"),
        pytest.param([1, 2, 9_000], id="at the very end, where nobody can tell"),
    ],
)
def test_other_disorder_is_left_to_the_core(tmp_path: Path, times_s: list[int]) -> None:
    lines = [encode_event(End(t_s * S)).encode() for t_s in times_s]
    opened = open_recording(recording(tmp_path, HEAD, *lines))

    assert [event.t_ns // S for event in opened.events()] == times_s
    assert opened.problems == Problems()


def test_later_types_and_lost_events_are_counted(tmp_path: Path) -> None:
    later, lost = b'{"t_ns":1,"type":"hologram"}', b'{"t_ns":9,"type":"lost","events":7}'
    opened = open_recording(recording(tmp_path, HEAD, later, lost, LINES[0], later, lost))

    assert tuple(opened.events()) == EVENTS[:1]
    assert (opened.problems.later_types, opened.problems.lost) == (2, 14)
    assert opened.problems.words() == (
        "2 of a later version skipped; 14 events not recorded while the disk was full"
    )


def test_a_damaged_head_is_made_good_by_its_copy(tmp_path: Path) -> None:
    opened = open_recording(recording(tmp_path, HEAD.replace(b":", b";", 1), *LINES, HEAD))

    assert opened.head == A_HEAD
    assert tuple(opened.events()) == EVENTS
    assert opened.problems.bad == 1


def test_a_megabyte_of_garbage_does_not_become_a_megabyte_of_reasons(tmp_path: Path) -> None:
    garbage = bytes(range(11, 256)) * 20_000
    path = recording(tmp_path, HEAD, LINES[0], garbage, *[b"?"] * 50_000, LINES[1])
    opened = open_recording(path)

    assert tuple(opened.events()) == EVENTS[:2]
    assert opened.problems.bad == 50_001
    assert len(opened.problems.first_bad) == 20
    assert opened.problems.first_bad[0] == BadLine(3, "far too long for a line")


@given(data=st.data())
def test_damage_takes_no_more_than_the_lines_it_touches(
    data: st.DataObject, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Cut, flip bits, or put garbage in: lines untouched by it come out, in order."""
    events = [beat(number) for number in range(30)]
    lines = [encode_event(event).encode() + b"\n" for event in events]
    touched = data.draw(st.sets(st.integers(0, 29), max_size=10))
    for number in touched:
        line = bytearray(lines[number][:-1])  # its newline holds
        line[data.draw(st.integers(0, len(line) - 1))] = data.draw(
            st.integers(0, 255).filter(lambda byte: byte != 10)
        )
        lines[number] = bytes(line) + data.draw(st.binary(max_size=5)) + b"\n"
    path = tmp_path_factory.mktemp("r") / "r.jsonl"
    path.write_bytes(HEAD + b"\n" + b"".join(lines) + data.draw(st.binary(max_size=20)))

    opened = open_recording(path)
    read = list(opened.events())

    untouched = [event for number, event in enumerate(events) if number not in touched]
    assert [event for event in read if event in untouched] == untouched
    assert opened.problems.bad <= 2 * len(touched) * 6 + 20


@pytest.mark.parametrize(
    ("content", "message"),
    [
        pytest.param(b"", "it is empty; nothing was recorded", id="empty"),
        pytest.param(b"\n\n", "it is empty; nothing was recorded", id="newlines only"),
        pytest.param(HEAD[:99], "ends within its first line", id="killed in its first line"),
        pytest.param(b"\x89PNG\r\n\x1a\n" + bytes(900), "not a recording", id="a picture"),
        pytest.param(b"t;smo2\n1;60\n", "not a recording", id="a table"),
        pytest.param(b'{"a":1}\n' + LINES[0] + b"\n", "not a recording", id="other JSON lines"),
    ],
)
def test_what_is_no_recording_is_refused_in_words(
    content: bytes, message: str, tmp_path: Path
) -> None:
    path = tmp_path / "r.jsonl"
    path.write_bytes(content)

    with pytest.raises(RecordingError, match=message) as caught:
        open_recording(path)
    assert caught.value.where == str(path)


def test_a_later_format_is_refused_with_the_file_named(tmp_path: Path) -> None:
    path = recording(tmp_path, b'{"livemon":2}', *LINES, HEAD)

    with pytest.raises(NewerVersion, match="update livemon") as caught:
        open_recording(path)
    assert caught.value.where == str(path)


def test_a_missing_file_and_a_folder_are_told_apart(tmp_path: Path) -> None:
    with pytest.raises(RecordingError, match="no such file"):
        open_recording(tmp_path / "none.jsonl")
    with pytest.raises(RecordingError, match="it is a folder"):
        open_recording(tmp_path)


@contextmanager
def as_somebody_else() -> Iterator[None]:
    """Root may read whatever it likes, so root acts as nobody for a while."""
    root = os.geteuid() == 0
    if root:
        os.seteuid(65534)
    try:
        yield
    finally:
        if root:
            os.seteuid(0)


@pytest.mark.skipif(os.name != "posix", reason="Windows has no such rights")
def test_a_file_that_may_not_be_read(tmp_path: Path) -> None:
    path = recording(tmp_path, HEAD)
    path.chmod(0)

    with as_somebody_else(), pytest.raises(RecordingError, match="not allowed"):
        open_recording(path)


def test_each_kind_of_system_error_says_what_to_do() -> None:
    assert "not allowed" in words(PermissionError(errno.EACCES, "Permission denied"))
    assert "make room" in words(OSError(errno.ENOSPC, "No space left on device"))
    assert words(OSError(errno.ELOOP, "Too many levels")) == "too many levels"


@given(st.binary(max_size=300), st.lists(st.integers(1, 40), min_size=1))
def test_lines_are_the_same_however_the_bytes_arrive(data: bytes, sizes: list[int]) -> None:
    """Python's own split is the oracle."""
    cutter, lines, at = LineCutter(), [], 0
    while at < len(data):
        size = sizes[at % len(sizes)]
        lines += cutter.cut(data[at : at + size])
        at += size

    assert [*lines, cutter.rest] == data.split(b"\n")


def test_a_line_that_never_ends_is_dropped_and_the_next_one_is_whole() -> None:
    cutter = LineCutter(longest_bytes=10)

    assert cutter.cut(b"ok\n" + b"x" * 11) == [b"ok"]
    assert cutter.cut(b"x" * 11) == []
    assert cutter.rest == b""
    assert cutter.cut(b"xx\nfine\nha") == [None, b"fine"]
    assert cutter.cut(b"lf\n") == [b"half"]


def test_an_event_is_not_read_twice_from_a_generator_left_half_way(tmp_path: Path) -> None:
    opened = open_recording(recording(tmp_path, HEAD, *LINES))
    halfway = opened.events()
    first: Event = next(halfway)
    halfway.close()

    assert first == EVENTS[0]
    assert tuple(opened.events()) == EVENTS
