"""Read one athlete's part of one recording, analysed: what came first soon, then all of it."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import chain
from pathlib import Path

from livemon.analyse.gather import records_of
from livemon.analyse.session import AthleteRecord, analyse_athlete
from livemon.app.bouts_first import FirstBout
from livemon.app.bouts_warned import with_warnings
from livemon.app.day_words import day_of
from livemon.errors import UsageError
from livemon.events import AthleteChanged, Event, Head
from livemon.record.reader import Recording, open_recording
from livemon.record.warning_log import warning_log
from livemon.tongue import said
from livemon.view.bouts_source import BoutsSession


@dataclass(frozen=True, slots=True, eq=False)
class Reading:
    """A recording that was read.

    Attributes:
        athlete: the athlete's id in it.
        trouble: what had to be skipped, in words; empty if nothing.
        joined: names of athletes who were added while it was recorded.
    """

    path: Path
    athlete: str
    session: BoutsSession
    trouble: str
    joined: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Meanwhile:
    """What happens while a recording is read.

    Attributes:
        stop: asked whether to leave off.
        told: told which share of the file has been passed.
        first: given the session up to the end of its first bout.
    """

    stop: Callable[[], bool] = lambda: False
    told: Callable[[float], None] = lambda share: None
    first: Callable[[BoutsSession], None] = lambda session: None


def names_in(head: Head) -> tuple[str, ...]:
    """Return what the athletes are called who were there when the recording began."""
    return tuple(one.name or one.athlete for one in head.athletes)


def read_athlete(
    path: Path, athlete: str | None, resting: frozenset[str], meanwhile: Meanwhile
) -> Reading | None:
    """Return the athlete's session; None if it was to be left off meanwhile.

    Raises:
        RecordingError: the file can't be read.
        UsageError: nobody is called so, or nobody was named and there are several.
    """
    recording = open_recording(path)
    head = recording.head
    known = {one.athlete: one.name or one.athlete for one in head.athletes}
    at_start = _named(known, athlete)
    if athlete is None and len(known) > 1:
        raise UsageError(_name_one(path, known))
    events = (
        recording.events(meanwhile.told)
        if at_start is None
        else recording.events_about(at_start, meanwhile.told)
    )
    noted = _until(meanwhile.stop, noting(known, events))
    begun: list[Event] = []
    if at_start is not None and _first_bout(at_start, noted, begun):
        meanwhile.first(_session(head, _record(head, begun, at_start, resting)))
    records = records_of(head, chain(begun, noted), idle_sites=resting)
    if meanwhile.stop():
        return None
    at = at_start or _chosen(path, known, athlete)
    record = with_warnings(records[list(known).index(at)], at, warning_log(path))
    return Reading(path, at, _session(head, record), _trouble(recording),
                   tuple(list(known.values())[len(head.athletes):]))  # fmt: skip


def _session(head: Head, record: AthleteRecord) -> BoutsSession:
    day = day_of(head.started_utc)
    return BoutsSession(head.session, head.started_utc, day, record, analyse_athlete(record))


def _first_bout(athlete: str, events: Iterator[Event], begun: list[Event]) -> bool:
    """Move events into `begun` up to the end of the first bout; False if it never comes."""
    first = FirstBout(athlete)
    for event in events:
        begun.append(event)
        if first.whole(event):
            return True
    return False


def _record(
    head: Head, events: Iterable[Event], athlete: str, resting: frozenset[str]
) -> AthleteRecord:
    ids = {one.athlete: one.name for one in head.athletes}
    records = records_of(head, noting(ids, events), idle_sites=resting)
    return records[list(ids).index(athlete)]


def _trouble(recording: Recording) -> str:
    words = recording.problems.words()
    return f"{recording.path.name}: {words}" if words else ""


def _chosen(path: Path, known: dict[str, str], athlete: str | None) -> str:
    if not known:
        raise UsageError(said("{file}: nobody is in this recording", file=path.name))
    if athlete is None and len(known) > 1:
        raise UsageError(_name_one(path, known))
    found = _named(known, athlete)
    if found is None:
        there = ", ".join(known.values())
        raise UsageError(
            said(
                "{file}: nobody is called {name}; it has {there}",
                file=path.name, name=repr(athlete), there=there,
            )
        )  # fmt: skip
    return found


def _named(known: dict[str, str], athlete: str | None) -> str | None:
    """Return the id of who is called so, or of the only one when nobody is named."""
    if athlete is None:
        return next(iter(known)) if len(known) == 1 else None
    return next((one for one, name in known.items() if athlete in (one, name)), None)


def _name_one(path: Path, known: dict[str, str]) -> str:
    there = ", ".join(known.values())
    return said(
        "{file}: bouts are compared within one athlete; name one: {there}",
        file=path.name, there=there,
    )  # fmt: skip


def noting(known: dict[str, str], events: Iterable[Event]) -> Iterator[Event]:
    """Note athletes who join, in the order in which their records come."""
    for event in events:
        if isinstance(event, AthleteChanged):
            known[event.athlete.athlete] = event.athlete.name or event.athlete.athlete
        yield event


def _until(stop: Callable[[], bool], events: Iterable[Event]) -> Iterator[Event]:
    for event in events:
        if stop():
            return
        yield event
