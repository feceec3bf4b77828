"""Pass over the packets of sensors that others wear: one athlete's part of a class, read soon.

Nearly all lines of a recording are packets. Those of others are told by their bytes and are never
decoded, so nobody learns whether they were damaged. Lines that can't be told are kept.
"""

import json
import re
from collections.abc import Iterable, Iterator
from typing import Final

from livemon.errors import RecordingError
from livemon.events import Assigned, Head
from livemon.record.lines import decode_event

#: A numbered line; None is one that was too long.
NumberedLine = tuple[int, bytes | None]

_ASSIGNED: Final = b'"type":"assigned"'


class AboutAthlete:
    """Keeps the lines that concern one athlete, as sensors come to be worn."""

    __slots__ = ("_athlete", "_others", "_worn")

    def __init__(self, head: Head, athlete: str) -> None:
        """Take the athlete's id, and who wears what at the start."""
        self._athlete = athlete
        self._worn: set[str] = set()
        self._wear(one.sensor for one in head.assigned if one.athlete == athlete)

    def keep(self, first: int, lines: list[bytes | None]) -> Iterator[NumberedLine]:
        """Yield the lines to be read; `first` is the number of the first of them."""
        kept = self._kept(first, lines)
        worn = [sensor for _, line in kept if (sensor := self._newly_worn(line)) is not None]
        if worn:
            self._wear(worn)
            kept = self._kept(first, lines)
        yield from kept

    def _kept(self, first: int, lines: list[bytes | None]) -> list[NumberedLine]:
        others = self._others
        return [
            (number, line)
            for number, line in enumerate(lines, first)
            if line is None or others(line) is None
        ]

    def _newly_worn(self, line: bytes | None) -> str | None:
        """Return the sensor that the athlete puts on in this line."""
        if line is None or _ASSIGNED not in line:
            return None
        try:
            event = decode_event(line)
        except RecordingError:
            return None  # whoever reads it counts it
        if not isinstance(event, Assigned) or event.athlete != self._athlete:
            return None
        return None if event.sensor in self._worn else event.sensor

    def _wear(self, sensors: Iterable[str]) -> None:
        self._worn.update(sensors)
        # Only names without escapes are told apart by their bytes, as those can be written one way.
        mine = b"|".join(re.escape(json.dumps(sensor).encode()) for sensor in sorted(self._worn))
        but_mine = b"(?!" + mine + b")" if mine else b""
        self._others = re.compile(
            rb'"type":"data","sensor":' + but_mine + rb'"[^"\\]*"'
        ).search  # fmt: skip
