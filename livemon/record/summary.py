"""What one recording holds, for a list: read quickly, without decoding what sensors sent."""

import json
from collections import Counter
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Final

from livemon.errors import RecordingError
from livemon.events import (
    Athlete,
    AthleteChanged,
    End,
    Event,
    Mark,
    Notification,
    Sensor,
    SensorAdded,
)
from livemon.monitor.bouts import Phase, bouts_of
from livemon.monitor.corrections import MarkBook
from livemon.record.chunks import LineCutter, batches_of, lines_of
from livemon.record.counted import counted
from livemon.record.disk import open_to_read, translated
from livemon.record.head import HEAD_START
from livemon.record.lines import decode_event
from livemon.record.reader import open_recording
from livemon.record.side_lines import About, decode_side_line

#: A line of a sensor's bytes has this and no other line does: inside a text, quotes are escaped.
_DATA: Final = b'"type":"data"'


@dataclass(frozen=True, slots=True)
class Summary:
    """One recording in a list.

    Attributes:
        file: its name in the folder.
        athletes: names, or ids where a name is empty, sorted.
        bouts: bouts of work of the athlete who has most of them.
        notifications: packets from sensors.
        damaged: lines that could not be read, sensors' lines not among them.
        ended: the session was closed in good order.
        unreadable: why it can't be opened at all; None if it can.
    """

    file: str
    size_bytes: int
    started_utc: str = ""
    session: str = ""
    title: str = ""
    tags: tuple[str, ...] = ()
    athletes: tuple[str, ...] = ()
    sensors: int = 0
    duration_s: float = 0.0
    bouts: int = 0
    marks: int = 0
    notifications: int = 0
    damaged: int = 0
    ended: bool = False
    unreadable: str | None = None

    def words(self) -> str:
        """Return what it is in one line, as it is said before it is deleted."""
        if self.unreadable is not None:
            return f"{self.file}, {self.size_bytes} bytes: {self.unreadable}"
        who = ", ".join(self.athletes) or "nobody"
        name = f"“{self.title}”, " if self.title else ""
        return (
            f"{name}{self.started_utc[:16].replace('T', ' ')} UTC, {self.duration_s / 60:.0f} min, "
            f"{who}; {counted(self.bouts, 'bout')}, {counted(self.marks, 'mark')}, "
            f"{counted(self.notifications, 'packet')} from {counted(self.sensors, 'sensor')} "
            f"({self.file}, {self.size_bytes / 1e6:.1f} MB)"
        )


def summarize(path: Path) -> Summary:
    """Return what the recording at `path` holds; one that can't be opened says why."""
    size_bytes = path.stat().st_size
    try:
        opened = open_recording(path)
    except RecordingError as error:
        return Summary(path.name, size_bytes, unreadable=error.problem)
    count = _Count(opened.head.athletes, opened.head.sensors)
    with open_to_read(path) as file, translated(path):
        for lines in batches_of(file, LineCutter()):
            count.lines(lines)
    athletes = count.athletes
    return Summary(
        file=path.name,
        size_bytes=size_bytes,
        started_utc=opened.head.started_utc,
        session=opened.head.session,
        title=count.about.title,
        tags=count.about.tags,
        athletes=tuple(sorted(athlete.name or athlete.athlete for athlete in athletes.values())),
        sensors=len(count.sensors),
        duration_s=count.duration_s(),
        bouts=max((_bouts(count.book, athlete) for athlete in athletes), default=0),
        marks=len(count.book.standing),
        notifications=count.kinds["data"],
        damaged=count.kinds["damaged"],
        ended=count.ended,
    )


def about(path: Path) -> About:
    """Return the title and tags of the recording at `path`.

    Raises:
        RecordingError: it can't be read.
    """
    found = About()
    with open_to_read(path) as file, translated(path):
        for line in lines_of(file, LineCutter()):
            if line is not None and b'"type":"about"' in line:
                found = _about(line) or found
    return found


def summary_text(summary: Summary) -> str:
    """Return the summary as text that `summary_from` takes back."""
    return json.dumps(asdict(summary))


def summary_from(text: str) -> Summary:
    """Return the summary that `summary_text` wrote.

    Raises:
        ValueError, TypeError: it was written by another version, or is damaged.
    """
    fields = json.loads(text)
    return Summary(**fields | {key: tuple(fields[key]) for key in ("tags", "athletes")})


class _Count:
    """Counts what the lines of one recording hold."""

    def __init__(self, athletes: tuple[Athlete, ...], sensors: tuple[Sensor, ...]) -> None:
        self.athletes = {athlete.athlete: athlete for athlete in athletes}
        self.sensors = {sensor.sensor for sensor in sensors}
        self.kinds: Counter[str] = Counter()
        self.book, self.about, self.ended = MarkBook(), About(), False
        self._last_data: bytes | None = None
        self._last_ns = 0

    def lines(self, lines: list[bytes | None]) -> None:
        """Count some lines; those of sensors are nearly all, and are not looked into."""
        others = [line for line in lines if line is None or _DATA not in line]
        if len(others) < len(lines):
            self.kinds["data"] += len(lines) - len(others)
            self._last_data = next(line for line in reversed(lines) if line and _DATA in line)
        for line in others:
            if line is None or (line and not line.startswith(HEAD_START)):
                self._other(line)

    def duration_s(self) -> float:
        """Return the time of the last event."""
        last = None if self._last_data is None else _event(self._last_data)
        return max(self._last_ns, 0 if last is None else last.t_ns) / 1e9

    def _other(self, line: bytes | None) -> None:
        event = None if line is None else _event(line)
        if event is None:
            self._side(line)
            return
        self._last_ns = max(self._last_ns, event.t_ns)
        match event:
            case Notification():  # from a writer that puts spaces between keys
                self.kinds["data"] += 1
            case Mark():
                self.book.add(event)
            case AthleteChanged():
                self.athletes[event.athlete.athlete] = event.athlete
            case SensorAdded():
                self.sensors.add(event.sensor.sensor)
        self.ended = self.ended or isinstance(event, End)

    def _side(self, line: bytes | None) -> None:
        try:
            side = decode_side_line(b"" if line is None else line)
        except RecordingError:
            self.kinds["damaged"] += 1
            return
        if isinstance(side, About):
            self.about = side


def _about(line: bytes) -> About | None:
    try:
        side = decode_side_line(line)
    except RecordingError:
        return None
    return side if isinstance(side, About) else None


def _event(line: bytes) -> Event | None:
    try:
        return decode_event(line)
    except RecordingError:
        return None


def _bouts(book: MarkBook, athlete: str) -> int:
    return sum(bout.phase is Phase.WORK for bout in bouts_of(book.standing, athlete))
