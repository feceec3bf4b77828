"""Write a whole recording at once: it is there complete, or not at all."""

from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from livemon.events import Event, Head
from livemon.record.disk import translated
from livemon.record.head import encode_head
from livemon.record.line_file import LineFile, to_disk
from livemon.record.lines import encode_event


def write_recording(path: Path, head: Head, events: Iterable[Event]) -> None:
    """Write `head` and `events` to `path`, which appears when all of it is on the disk.

    Raises:
        RecordingError: it can't be written, or an event can't be read where they come from.
    """
    part = path.with_suffix(".part")
    with translated(path):
        part.unlink(missing_ok=True)
        try:
            _write(part, head, events)
            part.replace(path)
        finally:
            with suppress(OSError):
                part.unlink(missing_ok=True)


def _write(part: Path, head: Head, events: Iterable[Event]) -> None:
    file = LineFile(part)
    try:
        file.append(encode_head(head))
        for event in events:
            file.append(encode_event(event))
        file.append(encode_head(head))  # as the journal does when it closes
        to_disk(file.descriptor)
    finally:
        file.close()
