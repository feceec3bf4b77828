"""Day and time of a recording in words, in this computer's time zone.

Python's own names of months follow another setting than our words.
"""

from datetime import datetime
from typing import Final

from livemon.tongue import marked, said
from livemon.view.bouts_ticks import MONTHS

_WHOLE_MONTHS: Final = (
    marked("January"),
    marked("February"),
    marked("March"),
    marked("April"),
    marked("May"),
    marked("June"),
    marked("July"),
    marked("August"),
    marked("September"),
    marked("October"),
    marked("November"),
    marked("December"),
)


def day_of(started_utc: str) -> str:
    """Return the day as short as it can be told; empty if it isn't known."""
    at = _here(started_utc)
    if at is None:
        return ""
    month = said(MONTHS[at.month - 1])
    return said("{day} {month} {year}", day=at.day, month=month, year=at.year)


def day_and_time(started_utc: str) -> str:
    """Return both as they stand at the top of a page; what can't be read stays as it is."""
    at = _here(started_utc)
    if at is None:
        return started_utc
    month = said(_WHOLE_MONTHS[at.month - 1])
    return said(
        "{day} {month} {year}, {time}",
        day=f"{at:%d}", month=month, year=at.year, time=f"{at:%H:%M}",
    )  # fmt: skip


def _here(started_utc: str) -> datetime | None:
    try:
        return datetime.fromisoformat(started_utc).astimezone()
    except (ValueError, OverflowError, OSError):
        return None
