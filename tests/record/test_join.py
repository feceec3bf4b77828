"""Two recordings of one session become one."""

from dataclasses import replace
from pathlib import Path

import pytest
from a_session import EVENTS, HEAD, HEART_RATE, S, session

from livemon.errors import RecordingError, UsageError
from livemon.events import (
    Assigned,
    Athlete,
    AthleteChanged,
    End,
    Gap,
    Head,
    Mark,
    Notification,
    Sensor,
    SensorAdded,
)
from livemon.monitor.bouts import bouts_of
from livemon.monitor.corrections import MarkBook
from livemon.record.join import join
from livemon.record.reader import open_recording

#: Ten minutes later, after a crash.
SECOND = Head(
    "2026-11-25T11:10:00+01:00",
    "k3fa",
    (Athlete("a1", "Zoë Invented"),),
    (Sensor("oxi", "Oximeter", "plain"),),
    (("plain", "# invented\n"),),
    (Assigned(0, "oxi", "a1", ("left thigh",)),),
)
AFTER = (
    Notification(1 * S, "oxi", HEART_RATE, b"\x01"),
    Mark(2 * S, "m1", "a1", "bout_start"),  # an id that the first one has taken
    Mark(3 * S, "m1b", "a1", "rpe", (("rpe_cr10", 5.0), ("bout", "m1")), 2 * S),
    Mark(4 * S, "m9", "a1", "withdrawn", (), None, "m1"),
    End(5 * S),
)


def test_the_later_one_follows_in_the_time_of_the_earlier(tmp_path: Path) -> None:
    first = session(tmp_path / "1.jsonl")
    second = session(tmp_path / "2.jsonl", SECOND, AFTER)
    before = first.read_bytes(), second.read_bytes()

    path = join(second, first, tmp_path)  # whichever way round

    joined = open_recording(path)
    at = 600 * S
    assert joined.head == HEAD
    assert tuple(joined.events()) == (
        *EVENTS[:-1],
        Gap(at, 299 * S, "between two recordings"),
        AthleteChanged(at, SECOND.athletes[0]),
        SensorAdded(at, SECOND.sensors[0], "# invented\n"),
        Assigned(at, "oxi", "a1", ("left thigh",)),
        Notification(at + 1 * S, "oxi", HEART_RATE, b"\x01"),
        Mark(at + 2 * S, "m1-2", "a1", "bout_start"),
        Mark(at + 3 * S, "m1b", "a1", "rpe", (("rpe_cr10", 5.0), ("bout", "m1-2")), at + 2 * S),
        Mark(at + 4 * S, "m9", "a1", "withdrawn", (), None, "m1-2"),
        End(at + 5 * S),
    )
    assert (first.read_bytes(), second.read_bytes()) == before
    marks = [event for event in joined.events() if isinstance(event, Mark)]
    assert len(bouts_of(MarkBook(marks).standing, "a1")) == 2  # the withdrawal hit its own bout


def test_what_two_machines_both_recorded_is_there_once(tmp_path: Path) -> None:
    """The second began a nanosecond later, and heard a packet that the first missed."""
    only_there = Notification(5 * S, "belt", HEART_RATE, b"\x07")
    seen = [replace(e, t_ns=e.t_ns - 1) for e in EVENTS if isinstance(e, Notification)]
    second = replace(SECOND, athletes=(), sensors=(), assigned=())
    paths = (
        session(tmp_path / "1.jsonl"),
        session(tmp_path / "2.jsonl", second, (*seen[:2], only_there, _m5(), seen[2])),
    )

    joined = open_recording(join(*paths, tmp_path, offset_s=1e-9))

    expected = sorted((*EVENTS, replace(only_there, t_ns=5 * S + 1)), key=lambda e: e.t_ns)
    assert list(joined.events()) == expected


def _m5() -> Mark:
    """Return the correction of the exertion, in the time of the second machine."""
    m5 = EVENTS[11]
    assert isinstance(m5, Mark)
    assert m5.at_ns is not None
    return replace(m5, t_ns=m5.t_ns - 1, at_ns=m5.at_ns - 1)


def test_the_same_file_twice_is_refused(tmp_path: Path) -> None:
    path = session(tmp_path / "1.jsonl")

    with pytest.raises(UsageError, match="one and the same"):
        join(path, tmp_path / "." / "1.jsonl", tmp_path)


@pytest.mark.parametrize("started", ["yesterday", "2026-11-25T11:10:00"])
def test_starts_that_cannot_be_compared_are_asked_for(tmp_path: Path, started: str) -> None:
    first = session(tmp_path / "1.jsonl")
    second = session(tmp_path / "2.jsonl", replace(SECOND, started_utc=started), AFTER)

    with pytest.raises(UsageError, match="say how many seconds apart"):
        join(first, second, tmp_path)
    assert join(first, second, tmp_path, offset_s=600).exists()


def test_nothing_is_written_over_and_nothing_half_is_left(tmp_path: Path) -> None:
    first, second = session(tmp_path / "1.jsonl"), session(tmp_path / "2.jsonl", SECOND, AFTER)
    join(first, second, tmp_path)

    with pytest.raises(RecordingError, match="already"):
        join(first, second, tmp_path)
    assert not list(tmp_path.glob("*.part"))
