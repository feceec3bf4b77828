"""The first line of a recording: who was measured with what, so that the rest reads anywhere.

    {"livemon":1,"started_utc":"2026-11-25T10:00:00+00:00","session":"k3f9","athletes":[...],...}

`livemon` is the version of the format. New keys and new event types don't raise it, since readers
pass over what they don't know; only a change that an older reader would misunderstand does.
"""

from typing import Final

from livemon.errors import RecordingError
from livemon.events import Head
from livemon.record.jsonline import (
    Record,
    brief,
    dump,
    free_text,
    items,
    load,
    problem,
    table,
    text,
    whole,
)
from livemon.record.kit import (
    assigned_record,
    athlete_record,
    read_assigned,
    read_athlete,
    read_sensor,
    sensor_record,
)

#: Of the format, not of the program.
VERSION: Final = 1

#: How every head line begins; no event's line does.
HEAD_START: Final = b'{"livemon":'


class NewerVersion(RecordingError):  # noqa: N818 - it tells an age, not a fault
    """The recording was written by a later livemon, in a format that this one can't know."""

    def __init__(self, version: int, where: str = "recording") -> None:
        super().__init__(
            where,
            "",
            f"it is in format {version}, and this livemon reads formats up to {VERSION}; "
            "update livemon to open it",
        )
        self.version = version


def encode_head(head: Head) -> str:
    """Return `head` as its line, without the newline.

    Raises:
        RecordingError: it holds what no line can: NaN, or a name twice.
    """
    adapters = dict(head.adapters)
    if len(adapters) != len(head.adapters):
        raise problem("adapters", "a name stands there twice")
    return dump(
        {
            "livemon": VERSION,
            "started_utc": head.started_utc,
            "session": head.session,
            "athletes": [athlete_record(athlete) for athlete in head.athletes],
            "sensors": [sensor_record(sensor) for sensor in head.sensors],
            "assigned": [assigned_record(event) for event in head.assigned],
            "adapters": adapters,
        }
    )


def decode_head(line: bytes | str) -> Head:
    """Return the head on `line`.

    Raises:
        NewerVersion: a later livemon wrote it.
        RecordingError: the line is no head, or damaged.
    """
    record = load(line)
    if "livemon" not in record:
        raise problem("livemon", "missing; this line is not the head of a recording")
    version = whole(record, "livemon", 1)
    if version > VERSION:
        raise NewerVersion(version)
    adapters = table(record, "adapters")
    return Head(
        text(record, "started_utc"),
        text(record, "session"),
        tuple(read_athlete(row) for row in _rows(record, "athletes")),
        tuple(read_sensor(row) for row in _rows(record, "sensors")),
        tuple((name, free_text(adapters, name)) for name in adapters),
        tuple(read_assigned(row) for row in _rows(record, "assigned")),
    )


def _rows(record: Record, key: str) -> list[Record]:
    rows = items(record, key)
    for index, row in enumerate(rows):
        if type(row) is not dict:
            raise problem(f"{key}[{index}]", f"expected an object, found {brief(row)}")
    return rows
