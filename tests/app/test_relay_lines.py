"""A recording's lines by their numbers, from any of them, also while it grows."""

from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.app.relay_lines import NOT_WRITTEN, NumberedLines
from livemon.events import (
    Assigned,
    Athlete,
    AthleteChanged,
    End,
    Event,
    Gap,
    Head,
    LinkDown,
    LinkUp,
    Mark,
    Notification,
    Sensor,
    SensorAdded,
)
from livemon.record.head import encode_head
from livemon.record.lines import encode_event
from livemon.record.side_lines import About, Lost, encode_side_line

HEAD = encode_head(Head("2026-03-02T17:30:00+00:00", "s1")).encode()
SIDE = encode_side_line(About("a title")).encode()


def line(number: int) -> bytes:
    return encode_event(LinkUp(number, "s")).encode()


@example([("event", 300), ("side", 1), ("event", 300), ("lost", 300), ("event", 2)], 250, 310)
@given(
    st.lists(
        st.tuples(st.sampled_from(["event", "side", "head", "lost"]), st.integers(1, 300)),
        max_size=8,
    ),
    st.integers(1, 1000),
    st.integers(0, 400),
)
def test_any_lines_are_found_again(
    tmp_path_factory, pieces: list[tuple[str, int]], first: int, count: int
) -> None:
    """Against a list in memory; whatever stands between, and events that were never written."""
    path = tmp_path_factory.mktemp("lines") / "r.jsonl"
    numbered, reader = [], NumberedLines(path)
    with path.open("wb") as file:
        for kind, many in pieces:
            if kind == "event":
                new = [line(len(numbered) + n) for n in range(many)]
                numbered += new
                file.write(b"".join(one + b"\n" for one in new))
            elif kind == "lost":
                numbered += [NOT_WRITTEN] * many
                file.write(encode_side_line(Lost(5, many)).encode() + b"\n")
            else:
                file.write((SIDE if kind == "side" else HEAD) + b"\n")
            file.flush()
            assert reader.count() == len(numbered)

    numbers = range(first, first + count)
    assert reader.read(numbers) == tuple(numbered[first - 1 : first - 1 + count])
    assert NumberedLines(path).read(numbers) == reader.read(numbers)


def test_a_line_that_is_still_being_written_waits(tmp_path: Path) -> None:
    path = tmp_path / "r.jsonl"
    reader = NumberedLines(path)
    path.write_bytes(HEAD + b"\n" + line(1) + b"\n" + line(2)[:20])
    assert reader.count() == 1
    path.write_bytes(HEAD + b"\n" + line(1) + b"\n" + line(2) + b"\n")

    assert reader.read(range(2, 3)) == (line(2),)


def test_a_recording_that_is_gone_has_no_lines(tmp_path: Path) -> None:
    reader = NumberedLines(tmp_path / "gone.jsonl")

    assert (reader.count(), reader.read(range(1, 5))) == (0, ())


@pytest.mark.parametrize(
    "event",
    [
        Notification(1, "s", "00002a37-0000-1000-8000-00805f9b34fb", b""),
        LinkUp(1, "s"),
        LinkDown(1, "s", ""),
        SensorAdded(1, Sensor("s", "")),
        AthleteChanged(1, Athlete("a", "")),
        Assigned(1, "s", "a"),
        Mark(1, "m", "a", "note"),
        Gap(1, 1, ""),
        End(1),
    ],
    ids=lambda event: type(event).__name__,
)
def test_the_line_of_every_event_counts(tmp_path: Path, event: Event) -> None:
    path = tmp_path / "r.jsonl"
    path.write_text(encode_event(event) + "\n")

    assert NumberedLines(path).read(range(1, 2)) == (encode_event(event).encode(),)
