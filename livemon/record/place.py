"""Where a new recording goes, and whether there is room.

A name is a UTC stamp and a short id: it sorts by time, says nothing about anybody, and has no
colon, which Windows forbids.
"""

import os
import shutil
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path
from typing import Final

from livemon.errors import RecordingError
from livemon.record.disk import translated
from livemon.tongue import said

SUFFIX: Final = ".jsonl"

#: Three hours of 24 athletes with three sensors at 4 Hz take some 250 MB; below this, a day's
#: class may not fit.
LOW_BYTES: Final = 200_000_000


def recording_name(started_utc: str, session: str) -> str:
    """Return the file name for a session.

    Raises:
        RecordingError: `started_utc` is not ISO 8601 with an offset.
    """
    try:
        started = datetime.fromisoformat(started_utc)
    except ValueError:
        started = None
    if started is None or started.tzinfo is None:
        raise RecordingError(
            "head", "started_utc", f"expected ISO 8601 with an offset, found {started_utc!r}"
        )
    # Digested, so that whatever was taken for the session's id can't show in a file name.
    short_id = sha256(session.encode("utf-8", "surrogatepass")).hexdigest()[:6]
    return f"{started.astimezone(UTC):%Y-%m-%dT%H%M%SZ}-{short_id}{SUFFIX}"


def new_path(folder: Path, started_utc: str, session: str) -> Path:
    """Return the path for a new recording, and make the folder if it isn't there.

    Raises:
        RecordingError: the folder can't be made, or the session is recorded there already.
    """
    with translated(folder):
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    path = folder / recording_name(started_utc, session)
    if path.exists():
        raise RecordingError(str(path), "", "this session is recorded already")
    return path


def keep_the_name(folder: Path) -> None:
    """Force the folder's list of names onto the disk, where the system can do that."""
    if os.name == "nt":  # Windows can't open a folder, and writes names through
        return
    with translated(folder):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


def free_bytes(folder: Path) -> int:
    """Return how much room there is.

    Raises:
        RecordingError: there is no such folder.
    """
    with translated(folder):
        return shutil.disk_usage(folder).free


def low_on_room(free: int) -> str | None:
    """Return a warning in words if `free` bytes are few, else None."""
    if free >= LOW_BYTES:
        return None
    return said(
        "only {free} MB free for recordings; make room until there are {least} MB",
        free=free // 1_000_000,
        least=LOW_BYTES // 1_000_000,
    )
