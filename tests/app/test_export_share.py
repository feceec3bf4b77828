"""A replay in shares tells what one replay of everybody tells."""

import heapq
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from livemon.app.export_progress import told_progress
from livemon.app.export_replay import Telling, told_of
from livemon.app.export_share import shares_of
from livemon.app.gym import gym_of
from livemon.events import (
    Assigned,
    Athlete,
    AthleteChanged,
    Event,
    Head,
    Mark,
    Notification,
    SensorAdded,
)
from livemon.monitor.changes import WarningOff, WarningOn
from livemon.monitor.session import Session, Told
from livemon.record.at_once import write_recording
from livemon.record.reader import open_recording
from livemon.synthetic.sessions import OVER_THE_LINE
from livemon.synthetic.training import events_of

S = 1_000_000_000
#: A minute's rest, the bout that drains, and its recovery: 380 s.
DRAINS = replace(OVER_THE_LINE, phases=(OVER_THE_LINE.phases[0], *OVER_THE_LINE.phases[-2:]))


def own(events: Iterator[Event], number: int, head: Head) -> Iterator[Event]:
    """Give each athlete sensors of their own; the third joins late, with the second's sensors."""
    for event in events:
        if isinstance(event, Notification):
            yield replace(event, sensor=f"{number}-{event.sensor}")
        elif isinstance(event, Mark) and number == 1:
            yield event
    if number == 2:
        for assigned in head.assigned:
            if assigned.athlete == "a2":
                yield replace(assigned, t_ns=325 * S, athlete="late")


@pytest.fixture(scope="module")
def recording(tmp_path_factory: pytest.TempPathFactory) -> Path:
    head = gym_of(DRAINS, 3, 1).head
    events = heapq.merge(
        *(own(events_of(DRAINS, number), number, head) for number in (1, 2, 3)),
        key=lambda event: event.t_ns,
    )
    joins = AthleteChanged(320 * S, Athlete("late", "Late Invented"))
    path = tmp_path_factory.mktemp("class") / "class.jsonl"
    write_recording(
        path, head, sorted([*events, joins], key=lambda event: (event.t_ns, event is not joins))
    )
    return path


def by_athlete(told: list[Told]) -> dict[str, list[Told]]:
    athletes = sorted({athlete for athlete, _ in told})
    return {athlete: [one for one in told if one[0] == athlete] for athlete in athletes}


@pytest.fixture(scope="module")
def whole(recording: Path) -> dict[str, list[Told]]:
    opened = open_recording(recording)
    session = Session(opened.head)
    return by_athlete([told for event in opened.events() for told in session.feed(event)])


@pytest.mark.parametrize("most", [1, 2, 3])
def test_shares_tell_the_same(recording: Path, whole: dict[str, list[Told]], most: int) -> None:
    shares = shares_of(open_recording(recording).head, ("a1", "a2", "a3"), most)

    assert len(shares) == most
    assert by_athlete([told for share in shares for told in told_of(recording, share)]) == whole
    assert {"a1", "a2", "a3"} <= set(whole)


def test_only_those_asked_for_are_replayed(recording: Path, whole: dict[str, list[Told]]) -> None:
    telling = Telling(open_recording(recording), frozenset({"a3"}), processes=4)

    told = by_athlete(telling.told())
    telling.close()

    assert told["a3"] == whole["a3"]
    assert "a1" not in told


def test_several_processes_tell_the_same(recording: Path, whole: dict[str, list[Told]]) -> None:
    telling = Telling(open_recording(recording), frozenset(), processes=2, large_bytes=0)

    told = by_athlete(telling.told())
    telling.close()

    assert told == whole


def test_progress_is_told_now_and_then() -> None:
    """Every 20,000 events the clock is looked at; it goes on by a second each time."""
    ticks = iter(range(100))
    said: list[str] = []
    sensor = SensorAdded(0, next(iter(gym_of(DRAINS, 1, 1).head.sensors)))
    events = (replace(sensor, t_ns=number * 3 * S) for number in range(100_000))

    passed = sum(1 for _ in told_progress(events, said.append, lambda: float(next(ticks))))

    assert passed == 100_000
    assert said == ["2999 min of the session read, 60,000 events"]


def test_an_assignment_to_another_share_takes_the_sensor_off() -> None:
    head = gym_of(DRAINS, 2, 1).head
    part = shares_of(head, ("a1", "a2"), 2)[0].part(head)
    beat = Notification(5, "1-strap", "00002a37-0000-1000-8000-00805f9b34fb", b"\x00\x60")

    assert part.own(beat) == beat
    assert part.own(Assigned(6, "1-strap", "a2")) == Assigned(6, "1-strap", None)
    assert part.own(beat) is None


def test_others_let_time_pass_for_one_who_went_silent(recording: Path, tmp_path: Path) -> None:
    """A warning ends for want of data, though nothing of this athlete tells of the time."""
    opened = open_recording(recording)
    session, kept, on = Session(opened.head), [], False
    for event in opened.events():
        if isinstance(event, Notification) and not (on and event.sensor.startswith("1-")):
            kept.append(event)
            on = on or any(
                athlete == "a1" and isinstance(change, WarningOn)
                for athlete, change in session.feed(event)
            )
    write_recording(tmp_path / "silent.jsonl", opened.head, kept)
    session = Session(opened.head)
    whole = by_athlete([told for event in kept for told in session.feed(event)])

    shares = shares_of(opened.head, ("a1", "a2", "a3"), 3)
    told = by_athlete([one for s in shares for one in told_of(tmp_path / "silent.jsonl", s)])

    assert isinstance(whole["a1"][-1][1], WarningOff)
    assert told == whole
