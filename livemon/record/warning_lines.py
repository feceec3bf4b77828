"""What became of warnings, as lines of a recording that are no events.

    {"t_ns":9000000000,"type":"warning","what":"on","athlete":"a1","site":"left thigh",
     "priority":"drain","fall_rate_pct_per_min":4.1,"falling_for_s":24.0,"bpm":158.0}
    {"t_ns":12000000000,"type":"warning","what":"seen","athlete":"a1"}

They never enter the core: a replay finds its warnings anew in what the sensors sent. These lines
keep what was shown at the time, by the livemon of that time, and how people dealt with it.
"""

from dataclasses import asdict, dataclass
from enum import Enum
from typing import Final

from livemon.record.jsonline import (
    Record,
    brief,
    free_text,
    number,
    problem,
    text,
    text_or_none,
    whole,
    whole_or_none,
)

TYPE: Final = "warning"


class Happened(Enum):
    """What a line can say."""

    ON = "on"
    RAISED = "raised"
    OFF = "off"
    SEEN = "seen"
    ASIDE = "set aside"
    OUT = "out of service"
    BACK = "put back"
    MUTED = "muted"
    HEARD = "heard again"


@dataclass(frozen=True, slots=True)
class WarningLine:
    """Something happened to the warnings of one athlete.

    Attributes:
        site: the muscle site; None for all of the athlete's.
        priority: of a warning that came on or became worse.
        fall_rate_pct_per_min: the evidence, and so on to `bpm`; None where it is not known.
        reason: why a warning went off.
        until_ns: until when it was set aside.
    """

    t_ns: int
    what: Happened
    athlete: str
    site: str | None = None
    priority: str | None = None
    fall_rate_pct_per_min: float | None = None
    falling_for_s: float | None = None
    bpm: float | None = None
    reason: str = ""
    until_ns: int | None = None


def warning_record(line: WarningLine) -> Record:
    """Return `line` as an object, without what it doesn't say."""
    said = {key: value for key, value in asdict(line).items() if value not in {None, ""}}
    return {"t_ns": said.pop("t_ns"), "type": TYPE, **said, "what": line.what.value}


def read_warning(record: Record) -> WarningLine | None:
    """Return what `warning_record` wrote; None where a later version says something new.

    Raises:
        RecordingError: the line is damaged.
    """
    what = text(record, "what")
    if what not in {one.value for one in Happened}:
        return None
    priority = text_or_none(record, "priority")
    if priority not in {None, "information", "caution", "drain"}:
        raise problem("priority", f"expected a priority, found {brief(priority)}")
    return WarningLine(
        t_ns=whole(record, "t_ns", 0),
        what=Happened(what),
        athlete=text(record, "athlete"),
        site=text_or_none(record, "site"),
        priority=priority,
        fall_rate_pct_per_min=_number_or_none(record, "fall_rate_pct_per_min"),
        falling_for_s=_number_or_none(record, "falling_for_s"),
        bpm=_number_or_none(record, "bpm"),
        reason=free_text(record, "reason"),
        until_ns=whole_or_none(record, "until_ns"),
    )


def _number_or_none(record: Record, key: str) -> float | None:
    return None if record.get(key) is None else number(record, key)
