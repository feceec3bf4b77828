"""One athlete's part of a recording: everything but the packets of sensors only others wear."""

from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.events import Assigned, Athlete, Event, Head, LinkDown, Mark, Notification, Sensor
from livemon.record.about_athlete import AboutAthlete
from livemon.record.at_once import write_recording
from livemon.record.head import encode_head
from livemon.record.lines import encode_event
from livemon.record.reader import open_recording

HEART_RATE = "00002a37-0000-1000-8000-00805f9b34fb"
HEAD = Head(
    "2026-03-02T10:00:00+00:00",
    "class",
    (Athlete("a1", "Ada"), Athlete("a2", "Bo")),
    tuple(Sensor(name, name) for name in ("belt1", "belt10", "belt.", "spare")),
    (),
    (Assigned(0, "belt1", "a1", ()), Assigned(0, "belt10", "a2", ())),
)


def packet(t_ns: int, sensor: str) -> Notification:
    return Notification(t_ns, sensor, HEART_RATE, b"\x06\x3c")


def about(folder: Path, events: list[Event], athlete: str = "a1") -> list[Event]:
    path = folder / "class.jsonl"
    path.unlink(missing_ok=True)
    write_recording(path, HEAD, events)
    return list(open_recording(path).events_about(athlete))


def test_packets_of_others_are_left_out_and_all_else_is_kept(tmp_path: Path) -> None:
    mine: list[Event] = [
        packet(1, "belt1"), LinkDown(2, "belt10", ""), Mark(3, "m1", None, "bout_start"),
        Mark(4, "m2", "a2", "rpe", (("rpe_cr10", 4),)), packet(5, "belt1"),
    ]  # fmt: skip
    others = [packet(1, "belt10"), packet(4, "spare"), packet(5, "beltx")]
    events = sorted([*mine, *others], key=lambda event: event.t_ns)

    assert about(tmp_path, events) == mine


def test_a_sensor_put_on_later_is_read_from_then_on(tmp_path: Path) -> None:
    events: list[Event] = [
        packet(1, "spare"), Assigned(2, "spare", "a1", ()), packet(3, "spare"), packet(4, "belt10"),
        Assigned(5, "spare", "a2", ()), packet(6, "spare"),
    ]  # fmt: skip
    found = about(tmp_path, events)

    assert packet(3, "spare") in found
    assert packet(4, "belt10") not in found


@pytest.mark.parametrize("sensor", ["belt1", "belt.", 'a "b"', "gürtel", "a\\"])
def test_names_are_no_patterns_and_need_no_plain_letters(tmp_path: Path, sensor: str) -> None:
    events: list[Event] = [Assigned(1, sensor, "a1", ()), packet(2, sensor), packet(3, "belt2")]

    assert about(tmp_path, events) == events[:2]


_SENSORS = st.sampled_from(["belt1", "belt10", "spare", 'a "b"'])
_THINGS = st.lists(
    st.tuples(st.sampled_from(["packet", "to a1", "to a2", "off"]), _SENSORS), max_size=30
)


@given(_THINGS)
@example([("to a1", "spare"), ("packet", "spare")])
@example([("packet", "spare"), ("to a1", "spare")])
def test_no_packet_of_the_athletes_own_is_ever_missed(things: list[tuple[str, str]]) -> None:
    """However the sensors change hands; cut into batches of three lines."""
    events: list[Event] = []
    worn, mine = {"belt1": "a1", "belt10": "a2"}, []
    for at, (what, sensor) in enumerate(things):
        if what == "packet":
            events.append(packet(at, sensor))
            mine += [events[-1]] if worn.get(sensor) == "a1" else []
        else:
            worn[sensor] = what.removeprefix("to ")
            events.append(Assigned(at, sensor, None if what == "off" else worn[sensor], ()))
    lines = [encode_event(event).encode() for event in events]
    keeps = AboutAthlete(HEAD, "a1")
    kept = [
        line for first in range(0, len(lines), 3)
        for _, line in keeps.keep(first + 1, list(lines[first : first + 3]))
    ]  # fmt: skip

    assert {encode_event(event).encode() for event in mine} <= set(kept)
    assert kept == [line for line in lines if line in set(kept)]


def test_damaged_lines_keep_their_numbers(tmp_path: Path) -> None:
    path = tmp_path / "class.jsonl"
    lines = [
        encode_head(HEAD), encode_event(packet(1, "belt10")), "{damaged",
        encode_event(packet(2, "belt1")), '{"t_ns":3,"type":"assigned","sensor":7}',
    ]  # fmt: skip
    path.write_text("\n".join(lines) + "\n")
    opened = open_recording(path)

    assert list(opened.events_about("a1")) == [packet(2, "belt1")]
    assert "line 3" in opened.problems.words()


def test_progress_rises_to_the_whole_file(tmp_path: Path) -> None:
    told: list[float] = []
    path = tmp_path / "class.jsonl"
    write_recording(path, HEAD, [packet(t, "belt1") for t in range(9_000)])
    for events in (
        open_recording(path).events,
        lambda t: open_recording(path).events_about("a1", t),
    ):
        told.clear()
        assert len(list(events(told.append))) == 9_000
        assert len(told) > 2
        assert told == sorted(told)
        assert told[-1] == 1.0
