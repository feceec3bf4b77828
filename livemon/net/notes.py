"""The small messages beside the batches: a relay's state, and what the hub has.

    {"state":1,"session":"20260101-a1","there":true,"earlier":[]}
    {"have":1,"session":"20260101-a1","stored":1200}

A state is a hint only: it may be late or left over. What counts is the age of the data.
"""

import json
from dataclasses import dataclass
from typing import Any, Final

from livemon.net.topics import read_session
from livemon.net.trouble import MessageError

_VERSION: Final = 1
_MOST_BYTES: Final = 4_096
_LARGEST: Final = 2**63 - 1


@dataclass(frozen=True, slots=True)
class State:
    """Whether a relay is there, which recording it writes, and earlier ones that it still sends."""

    session: str
    there: bool
    earlier: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Have:
    """The hub has lines 1 to `stored` of a recording."""

    session: str
    stored: int


def encode_state(state: State) -> bytes:
    """Return the payload that says `state`."""
    note = {"state": _VERSION, "session": state.session, "there": state.there}
    return _encode(note | {"earlier": list(state.earlier)})


def decode_state(payload: bytes) -> State:
    """Return the state in `payload`.

    Raises:
        MessageError: there is none.
    """
    note = _decode(payload, "state")
    if type(note.get("there")) is not bool:
        raise MessageError("a state that does not say whether the relay is there")
    earlier = note.get("earlier", [])
    if type(earlier) is not list:
        raise MessageError("a state whose earlier recordings are not told by their ids")
    sessions = (read_session(one, "a state's earlier recording") for one in earlier)
    return State(note["session"], note["there"], tuple(sessions))


def encode_have(have: Have) -> bytes:
    """Return the payload that says `have`."""
    return _encode({"have": _VERSION, "session": have.session, "stored": have.stored})


def decode_have(payload: bytes) -> Have:
    """Return the hub's word in `payload`.

    Raises:
        MessageError: there is none.
    """
    note = _decode(payload, "have")
    stored = note.get("stored")
    if type(stored) is not int or not 0 <= stored <= _LARGEST:
        raise MessageError("a hub's word that does not say how much it has")
    return Have(note["session"], stored)


def _encode(note: dict[str, object]) -> bytes:
    return json.dumps(note, separators=(",", ":")).encode()


def _decode(payload: bytes, kind: str) -> dict[str, Any]:
    if len(payload) > _MOST_BYTES:
        raise MessageError(f"a {kind} of {len(payload)} bytes")
    try:
        note = json.loads(payload)
    except (ValueError, RecursionError) as error:
        raise MessageError(f"a {kind} that is not JSON") from error
    if type(note) is not dict or note.get(kind) != _VERSION:
        raise MessageError(f"a {kind} of another version, or none at all")
    read_session(note.get("session"), f"a {kind}")
    return note
