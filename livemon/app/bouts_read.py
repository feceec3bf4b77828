"""Read one athlete's part of one recording, analysed."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from livemon.analyse.gather import records_of
from livemon.analyse.session import AthleteRecord, analyse_athlete
from livemon.errors import UsageError
from livemon.events import AthleteChanged, Event
from livemon.record.reader import open_recording
from livemon.view.bouts_source import BoutsSession


@dataclass(frozen=True, slots=True, eq=False)
class Reading:
    """A recording that was read.

    Attributes:
        athlete: the athlete's id in it.
        trouble: what had to be skipped, in words; empty if nothing.
    """

    path: Path
    athlete: str
    session: BoutsSession
    trouble: str


def read_athlete(
    path: Path, athlete: str | None, resting: frozenset[str], stop: Callable[[], bool]
) -> Reading | None:
    """Return the athlete's session; None if `stop` said so meanwhile.

    Raises:
        RecordingError: the file can't be read.
        UsageError: nobody is called so, or nobody was named and there are several.
    """
    recording = open_recording(path)
    ids = [known.athlete for known in recording.head.athletes]
    events = _until(stop, _noting(ids, recording.events()))
    records = records_of(recording.head, events, idle_sites=resting)
    if stop():
        return None
    at = _chosen(path, records, ids, athlete)
    record, head = records[at], recording.head
    session = BoutsSession(
        f"{head.session}", head.started_utc, day_of(head.started_utc), record,
        analyse_athlete(record),
    )  # fmt: skip
    words = recording.problems.words()
    return Reading(path, ids[at], session, f"{path.name}: {words}" if words else "")


def day_of(started_utc: str) -> str:
    """Return the day in words, in this computer's time zone; empty if it isn't known."""
    try:
        return f"{datetime.fromisoformat(started_utc).astimezone():%d %b %Y}".lstrip("0")
    except (ValueError, OverflowError, OSError):
        return ""


def _chosen(
    path: Path, records: tuple[AthleteRecord, ...], ids: list[str], athlete: str | None
) -> int:
    there = ", ".join(record.athlete for record in records)
    if not records:
        raise UsageError(f"{path.name}: nobody is in this recording")
    if athlete is None and len(records) > 1:
        raise UsageError(f"{path.name}: bouts are compared within one athlete; name one: {there}")
    for at, record in enumerate(records):
        if athlete in (None, record.athlete, ids[at]):
            return at
    raise UsageError(f"{path.name}: nobody is called {athlete!r}; it has {there}")


def _noting(ids: list[str], events: Iterable[Event]) -> Iterator[Event]:
    """Note athletes who join, in the order in which their records come."""
    for event in events:
        if isinstance(event, AthleteChanged) and event.athlete.athlete not in ids:
            ids.append(event.athlete.athlete)
        yield event


def _until(stop: Callable[[], bool], events: Iterable[Event]) -> Iterator[Event]:
    for event in events:
        if stop():
            return
        yield event
