"""A copy of a recording for sharing: without names, notes, titles and the hour of the day.

Ids are replaced too, because somebody may have taken a name or a device's address for one. What
remains is what the measurement needs: bytes of the sensors, times, muscle sites, kinds of work,
loads, exertion, lactate, heart-rate bands, and the date. Look through sites and kinds of work, if
names may stand there. Bodies can be told apart by such data: share it only with who may have it.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from livemon.events import (
    Assigned,
    Athlete,
    AthleteChanged,
    Event,
    Head,
    LinkDown,
    LinkUp,
    Mark,
    MarkValue,
    Notification,
    Sensor,
    SensorAdded,
)
from livemon.monitor.mark_fields import FIELDS, MarkKind
from livemon.record.at_once import write_recording
from livemon.record.place import new_path
from livemon.record.reader import open_recording

#: Texts in marks that say what was done; any other may say anything.
_KEPT_TEXTS: Final = frozenset({"work", "site", "sampling_site", "rpe_cr10"})

#: Under other keys, too, anything may stand.
_KNOWN_KEYS: Final = frozenset(field.key for fields in FIELDS.values() for field in fields)

#: `YYYY-MM-DD` of ISO 8601.
_DATE_LENGTH: Final = 10


@dataclass(frozen=True, slots=True)
class Redacted:
    """What was made, and what is not in it."""

    path: Path
    names: int  #: of athletes and sensors
    texts: int  #: notes and other free texts in marks
    unreadable: int  #: damaged lines, which are never copied


def redact(path: Path, folder: Path) -> Redacted:
    """Write a copy of the recording at `path` without personal data into `folder`.

    Raises:
        RecordingError: it can't be read, or the copy can't be written, or is there already.
    """
    opened = open_recording(path)
    cover = _Cover()
    head = cover.head(opened.head)
    target = new_path(folder, head.started_utc, f"redacted {opened.head.session}")
    write_recording(target, head, cover.events(opened.events()))
    return Redacted(target, cover.names, cover.texts, opened.problems.bad)


class _Cover:
    """Gives the same stand-in for the same id throughout one recording."""

    def __init__(self) -> None:
        self.names, self.texts = 0, 0
        self._ids: dict[tuple[str, str], str] = {}
        self._count: Counter[str] = Counter()

    def head(self, head: Head) -> Head:
        """Return the head without names."""
        return Head(
            f"{head.started_utc[:_DATE_LENGTH]}T00:00:00+00:00",
            "redacted",
            tuple(self._athlete(athlete) for athlete in head.athletes),
            tuple(self._sensor(sensor) for sensor in head.sensors),
            head.adapters,
            tuple(self._assigned(assigned) for assigned in head.assigned),
        )

    def events(self, events: Iterator[Event]) -> Iterator[Event]:
        """Yield the events without names and notes."""
        for event in events:
            yield self._event(event)

    def _event(self, event: Event) -> Event:
        match event:
            case Notification() | LinkUp():
                return replace(event, sensor=self._id("sensor", event.sensor))
            case LinkDown():  # the reason may name the device
                return replace(event, sensor=self._id("sensor", event.sensor), reason="")
            case SensorAdded():
                return replace(event, sensor=self._sensor(event.sensor))
            case AthleteChanged():
                return replace(event, athlete=self._athlete(event.athlete))
            case Assigned():
                return self._assigned(event)
            case Mark():
                return self._mark(event)
        return event

    def _id(self, kind: str, known: str) -> str:
        if (kind, known) not in self._ids:
            self._count[kind] += 1
            self._ids[kind, known] = f"{kind}-{self._count[kind]}"
        return self._ids[kind, known]

    def _athlete(self, athlete: Athlete) -> Athlete:
        self.names += bool(athlete.name)
        return replace(athlete, athlete=self._id("athlete", athlete.athlete), name="")

    def _sensor(self, sensor: Sensor) -> Sensor:
        self.names += bool(sensor.name)
        return replace(sensor, sensor=self._id("sensor", sensor.sensor), name="")

    def _assigned(self, event: Assigned) -> Assigned:
        athlete = None if event.athlete is None else self._id("athlete", event.athlete)
        return replace(event, sensor=self._id("sensor", event.sensor), athlete=athlete)

    def _mark(self, mark: Mark) -> Mark:
        return replace(
            mark,
            mark=self._id("mark", mark.mark),
            athlete=None if mark.athlete is None else self._id("athlete", mark.athlete),
            # An unknown kind is a text that somebody chose.
            kind=mark.kind if mark.kind in set(MarkKind) else "other",
            details=tuple(self._details(mark)),
            replaces=None if mark.replaces is None else self._id("mark", mark.replaces),
        )

    def _details(self, mark: Mark) -> Iterator[tuple[str, MarkValue]]:
        for key, value in mark.details:
            if key == "bout" and isinstance(value, str):
                yield key, self._id("mark", value)
            elif key in _KEPT_TEXTS or (key in _KNOWN_KEYS and not isinstance(value, str)):
                yield key, value
            else:
                self.texts += 1
