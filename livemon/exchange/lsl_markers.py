"""The stream of markers: marks and drain warnings, each one line of JSON.

A warning is told as `livemon replay --json` tells it. Free texts may hold names, so they are told
only where names are asked for.
"""

import json
from typing import Final

from livemon.events import Mark, MarkValue
from livemon.exchange.lsl_streams import Origin, Sent, Stream
from livemon.exchange.marked import kind_of, said_of
from livemon.monitor.changes import Change
from livemon.monitor.payload import change_line

_NS_PER_S: Final = 1e9


class Markers:
    """Words marks and changes of one session."""

    __slots__ = ("_names", "stream")

    def __init__(self, origin: Origin) -> None:
        self._names = origin.names
        name = "livemon replay marks" if origin.replayed else "livemon marks"
        #: One for the whole session; there from its beginning.
        self.stream: Final = Stream(name, "Markers", f"{origin.front}/marks", (), origin.facts)

    def mark(self, mark: Mark) -> Sent:
        """Return a mark, stamped with when it happened, which may be long ago."""
        t_ns = mark.t_ns if mark.at_ns is None else mark.at_ns
        told: dict[str, MarkValue] = {
            "type": "mark",
            "athlete": mark.athlete,
            "t_s": t_ns / _NS_PER_S,
            "mark": mark.mark,
            "kind": kind_of(mark, names=self._names),
        }
        if mark.replaces is not None:
            told["replaces"] = mark.replaces
        details = dict(said_of(mark, names=self._names))
        return Sent(self.stream, t_ns, (_line(told | {"details": details}),))

    def change(self, athlete: str, change: Change) -> Sent:
        """Return a warning's beginning, rise or end."""
        return Sent(self.stream, round(change.t_s * _NS_PER_S), (change_line(athlete, change),))


def _line(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
