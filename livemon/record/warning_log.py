"""The warnings of a recording as they were shown, each with its evidence and what became of it."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from livemon.errors import RecordingError
from livemon.record.chunks import LineCutter, lines_of
from livemon.record.disk import open_to_read, translated
from livemon.record.side_lines import decode_side_line
from livemon.record.warning_lines import TYPE, Happened, WarningLine

_MARK: Final = f'"type":"{TYPE}"'.encode()


@dataclass(frozen=True, slots=True)
class Logged:
    """One warning from its beginning to its end; times in nanoseconds of the session.

    Attributes:
        on: the line that began it, with the evidence.
        highest: the highest priority that it had.
        raised_ns: when it became worse; None if it never did.
        seen_ns: when somebody said that they had seen it.
        quiet: the lane was set aside or out of service at some time while it was on.
        off_ns: when it ended; None if the recording ended first.
        reason: why it ended.
    """

    on: WarningLine
    highest: str
    raised_ns: int | None = None
    seen_ns: int | None = None
    quiet: bool = False
    off_ns: int | None = None
    reason: str = ""


def warning_log(path: Path) -> tuple[Logged, ...]:
    """Return all warnings of the recording at `path`, in the order in which they began.

    Raises:
        RecordingError: it can't be read.
    """
    with open_to_read(path) as file, translated(path):
        found = [line for line in lines_of(file, LineCutter()) if line and _MARK in line]
    return logged(line for text in found if (line := _decoded(text)) is not None)


def logged(lines: Iterable[WarningLine]) -> tuple[Logged, ...]:
    """Return the warnings that these lines tell of."""
    log: list[Logged] = []
    quiet: dict[str, int | None] = {}  #: until when, by athlete
    for line in lines:
        if line.what is Happened.ON:
            aside = line.athlete in quiet and _lasts(quiet[line.athlete], line.t_ns)
            log.append(Logged(line, line.priority or "", quiet=aside))
            continue
        if line.what in {Happened.ASIDE, Happened.OUT}:
            quiet[line.athlete] = line.until_ns
        elif line.what is Happened.BACK:
            quiet.pop(line.athlete, None)
        for place, entry in enumerate(log):
            if entry.on.athlete == line.athlete and line.site in {None, entry.on.site}:
                log[place] = _after(entry, line)
    return tuple(log)


def _after(entry: Logged, line: WarningLine) -> Logged:
    """Return the warning after something happened to it; what is over can still be seen late."""
    over = entry.off_ns is not None
    match line.what:
        case Happened.SEEN if entry.seen_ns is None:
            return replace(entry, seen_ns=line.t_ns)
        case Happened.RAISED if not over:
            return replace(entry, highest=line.priority or entry.highest, raised_ns=line.t_ns)
        case Happened.ASIDE | Happened.OUT if not over:
            return replace(entry, quiet=True)
        case Happened.OFF if not over:
            return replace(entry, off_ns=line.t_ns, reason=line.reason)
    return entry


def _lasts(until_ns: int | None, t_ns: int) -> bool:
    return until_ns is None or t_ns < until_ns


def _decoded(text: bytes) -> WarningLine | None:
    try:
        side = decode_side_line(text)
    except RecordingError:
        return None
    return side if isinstance(side, WarningLine) else None
