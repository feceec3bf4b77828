"""Snapshots and changes as JSON text: for other programs, and to compare two runs byte for byte.

Keys come in a fixed order and floats as the shortest text that reads back to the same bits, so
equal snapshots give equal lines. "Not known" is null; NaN cannot occur.
"""

import json
from dataclasses import fields
from enum import Enum
from typing import Any, Final

from livemon.monitor.changes import Change, Slipped, WarningOff, WarningOn, WarningRaised
from livemon.monitor.snapshot import SessionSnapshot
from livemon.series.ring import Trail

_TYPES: Final = {
    WarningOn: "warning_on",
    WarningRaised: "warning_raised",
    WarningOff: "warning_off",
    Slipped: "slipped",
}


def snapshot_line(snapshot: SessionSnapshot) -> str:
    """Return the snapshot as one line of JSON without a newline; trails are left out."""
    return _dump(_plain(snapshot))


def change_line(athlete: str, change: Change) -> str:
    """Return a change as one line of JSON with `type`, `athlete`, `t_s` and `site` among it."""
    named = {"type": _TYPES[type(change)], "athlete": athlete}
    return _dump(named | _plain(change))


def _dump(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def _plain(value: Any) -> Any:  # noqa: ANN401 - whatever a snapshot holds
    """Turn snapshot values into what JSON knows."""
    if value is None or isinstance(value, (str, int, float)):
        return value
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    return {
        f.name: _plain(item)
        for f in fields(value)
        if not isinstance(item := getattr(value, f.name), Trail)
    }
