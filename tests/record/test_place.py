"""Names and room for recordings."""

import os
import stat
from pathlib import Path

import pytest

from livemon.errors import RecordingError
from livemon.record.place import (
    LOW_BYTES,
    free_bytes,
    keep_the_name,
    low_on_room,
    new_path,
    recording_name,
)

STARTED = "2026-11-25T10:00:07.5+00:00"


def test_a_name_is_a_stamp_and_a_short_id() -> None:
    assert recording_name(STARTED, "k3f9") == "2026-11-25T100007Z-fa8747.jsonl"
    assert recording_name("2026-11-25T12:00:07+02:00", "k3f9") == "2026-11-25T100007Z-fa8747.jsonl"


@pytest.mark.parametrize("session", ["Anna Müller", "../../etc/passwd", "a:b", "", "CON"])
def test_a_name_says_nothing_about_anybody_and_fits_every_system(session: str) -> None:
    name = recording_name(STARTED, session)

    assert name.startswith("2026-11-25T100007Z-")
    assert set(name) <= set("0123456789abcdefTZ-.jsonl")


@pytest.mark.parametrize(
    "started", ["yesterday", "", "2026-13-25T10:00:00+00:00", "2026-11-25T10:00:00"]
)
def test_a_start_without_a_moment_is_refused(started: str) -> None:
    with pytest.raises(RecordingError, match="started_utc"):
        recording_name(started, "k3f9")


def test_the_folder_is_made_and_private(tmp_path: Path) -> None:
    path = new_path(tmp_path / "data" / "recordings", STARTED, "k3f9")

    assert path.parent.is_dir()
    assert not path.exists()
    if os.name != "nt":
        assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700
    keep_the_name(path.parent)


def test_a_session_is_never_written_over(tmp_path: Path) -> None:
    new_path(tmp_path, STARTED, "k3f9").touch()

    with pytest.raises(RecordingError, match="recorded already"):
        new_path(tmp_path, STARTED, "k3f9")


def test_little_room_is_told_before_it_is_none(tmp_path: Path) -> None:
    assert low_on_room(LOW_BYTES) is None
    assert low_on_room(LOW_BYTES - 1) == (
        "only 199 MB free for recordings; make room until there are 200 MB"
    )
    assert free_bytes(tmp_path) > 0
    with pytest.raises(RecordingError):
        free_bytes(tmp_path / "none")
