"""A batch: consecutive lines of a relay's recording, under a header of one line.

    {"batch":1,"session":"20260101-a1","first":120,"count":2,"sent_ns":31200000000,"sent_utc_ms":…}
    {"t_ns":31100000000,"type":"data",…}
    {"t_ns":31150000000,"type":"data",…}

The lines are the recording's own, byte for byte; what they say is not looked at here. `first`
counts the recording's event lines from 1, so a batch says by itself what is missing before it. Two
clocks say when it was sent: the relay's session time, and its wall clock, which is only a label. A
live batch without lines is a sign of life from a relay whose sensors are silent.
"""

import json
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from livemon.net.topics import read_session
from livemon.net.trouble import MessageError

_VERSION: Final = 1
#: What docs/mqtt.md sets as a broker's limit. A full batch of notifications has a fifth of it; an
#: adapter's text has to fit too.
MAX_BYTES: Final = 65_536
#: A tenth of a second of 48 sensors at 10 Hz is 48 lines; a backlog goes by in pieces of this size.
MAX_LINES: Final = 200
_LARGEST: Final = 2**63 - 1


#: Room for the header, whose only part of any length is the session's id.
_HEADER_BYTES: Final = 1_024
#: Stands where a line is too long to travel; readers of recordings skip types that they don't know.
TOO_LONG: Final = b'{"type":"too_long"}'


@dataclass(frozen=True, slots=True)
class Batch:
    """Lines `first`, `first` + 1, … of the recording of `session`, without newlines."""

    session: str
    first: int
    sent_ns: int
    sent_utc_ms: int
    lines: tuple[bytes, ...]

    @property
    def last(self) -> int:
        """Number of the last line; `first` - 1 if there is none."""
        return self.first + len(self.lines) - 1


def fitting(lines: Iterable[bytes]) -> tuple[bytes, ...]:
    """Return as many of `lines`, from the first on, as go into one batch; at least one."""
    taken: list[bytes] = []
    room = MAX_BYTES - _HEADER_BYTES
    for line in lines:
        travels = line if len(line) < MAX_BYTES - _HEADER_BYTES else TOO_LONG
        room -= len(travels) + 1
        if room < 0 or len(taken) == MAX_LINES:
            break
        taken.append(travels)
    return tuple(taken)


def encode_batch(batch: Batch) -> bytes:
    """Return the payload that says `batch`."""
    header = {
        "batch": _VERSION,
        "session": batch.session,
        "first": batch.first,
        "count": len(batch.lines),
        "sent_ns": batch.sent_ns,
        "sent_utc_ms": batch.sent_utc_ms,
    }
    return b"\n".join((json.dumps(header, separators=(",", ":")).encode(), *batch.lines))


def decode_batch(payload: bytes) -> Batch:
    """Return the batch in `payload`.

    Raises:
        MessageError: it is too long, of another version, or not a batch at all.
    """
    if len(payload) > MAX_BYTES:
        raise MessageError(f"a batch of {len(payload)} bytes; at most {MAX_BYTES} are taken")
    first_line, *lines = payload.split(b"\n")
    header = _header(first_line)
    if header.get("batch") != _VERSION:
        raise MessageError(f"a batch of version {header.get('batch')!r}; this is {_VERSION}")
    if _whole(header, "count", 0) != len(lines):
        raise MessageError(f"a batch of {len(lines)} lines that says {header['count']}")
    return Batch(
        session=read_session(header.get("session"), "a batch"),
        first=_whole(header, "first", 1),
        sent_ns=_whole(header, "sent_ns", 0),
        sent_utc_ms=_whole(header, "sent_utc_ms", 0),
        lines=tuple(lines),
    )


def _header(line: bytes) -> dict[str, object]:
    try:
        header = json.loads(line)
    except (ValueError, RecursionError) as error:
        raise MessageError("a batch whose header is not JSON") from error
    if type(header) is not dict:
        raise MessageError("a batch whose header is no object")
    return header


def _whole(header: dict[str, object], key: str, low: int) -> int:
    value = header.get(key)
    if type(value) is not int or not low <= value <= _LARGEST:
        raise MessageError(f"a batch whose {key} is {str(value)[:40]!r}; expected {low} or more")
    return value
