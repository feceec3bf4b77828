"""How times are written in other people's files, read as nanoseconds."""

import re
from collections.abc import Callable
from datetime import UTC, datetime, tzinfo
from decimal import Decimal, InvalidOperation
from enum import Enum
from typing import Final

from livemon.exchange.stamps import epoch_ns

_NS_PER_S: Final = 1_000_000_000
_S_PER_MIN: Final = 60
_CLOCK: Final = re.compile(r"(?:(\d+):)?(\d{1,2}):(\d{1,2}(?:\.\d*)?)")


class Clock(Enum):
    """Formats of a time column; the values are those of the mapping file."""

    SECONDS = "s"
    MILLISECONDS = "ms"
    MINUTES = "min"
    CLOCK = "clock"  #: h:mm:ss or mm:ss, with decimals
    ISO = "iso"  #: ISO 8601, date and time
    UNIX = "unix"  #: seconds since 1970, UTC

    @property
    def has_date(self) -> bool:
        """Whether such times tell the day."""
        return self in {Clock.ISO, Clock.UNIX}


def time_reader(clock: Clock, decimal: str, zone: tzinfo | None) -> Callable[[str], int | None]:
    """Return what reads a cell as nanoseconds; None for a cell that is no such time.

    Args:
        clock: the format.
        decimal: the file's decimal sign.
        zone: of ISO times that have no offset; None takes such a time for no time.
    """

    def point(text: str) -> str:
        return text.strip().replace(decimal, ".")

    match clock:
        case Clock.CLOCK:
            return lambda text: _clock_ns(point(text))
        case Clock.ISO:
            return lambda text: _iso_ns(point(text), zone)
        case Clock.MILLISECONDS:
            return lambda text: _scaled_ns(point(text), 1_000_000)
        case Clock.MINUTES:
            return lambda text: _scaled_ns(point(text), _S_PER_MIN * _NS_PER_S)
    return lambda text: _scaled_ns(point(text), _NS_PER_S)


def _scaled_ns(text: str, unit_ns: int) -> int | None:
    try:
        number = Decimal(text)  # a float has no room for nanoseconds since 1970
    except InvalidOperation:
        return None
    return round(number * unit_ns) if number.is_finite() else None


def _clock_ns(text: str) -> int | None:
    found = _CLOCK.fullmatch(text)
    if found is None:
        return None
    hours, minutes, seconds = found.groups()
    whole_min = int(hours or 0) * 60 + int(minutes)
    return whole_min * _S_PER_MIN * _NS_PER_S + round(Decimal(seconds) * _NS_PER_S)


def _iso_ns(text: str, zone: tzinfo | None) -> int | None:
    try:
        when = datetime.fromisoformat(text)
    except ValueError:
        return None
    if when.tzinfo is None:
        if zone is None:
            return None
        when = when.replace(tzinfo=zone)
    return epoch_ns(when.astimezone(UTC))
