"""What the athletes of a recording are called, without reading what their sensors sent."""

from pathlib import Path

from livemon.errors import RecordingError
from livemon.events import AthleteChanged
from livemon.record.chunks import LineCutter, lines_of
from livemon.record.disk import open_to_read, translated
from livemon.record.lines import decode_event
from livemon.record.reader import open_recording


def athlete_names(path: Path) -> dict[str, str]:
    """Return the last name of each athlete by id; the id itself where a name is empty.

    Raises:
        RecordingError: it can't be read.
    """
    names = {one.athlete: one.name for one in open_recording(path).head.athletes}
    with open_to_read(path) as file, translated(path):
        for line in lines_of(file, LineCutter()):
            if line is not None and b'"type":"athlete"' in line:
                names |= _name(line)
    return {athlete: name or athlete for athlete, name in names.items()}


def _name(line: bytes) -> dict[str, str]:
    try:
        event = decode_event(line)
    except RecordingError:
        return {}
    if not isinstance(event, AthleteChanged):
        return {}
    return {event.athlete.athlete: event.athlete.name}
