"""Moments as texts: seconds since the session began, UTC, and the local time of a zone.

Wall-clock time is the label in the recording's head plus the seconds since; to a millisecond.
"""

from datetime import UTC, datetime, timedelta, tzinfo
from functools import lru_cache
from typing import Final

_MS_PER_S: Final = 1000
_NS_PER_MS: Final = 1_000_000
_NS_PER_S: Final = 1_000_000_000
_S_PER_DAY: Final = 86_400
_EPOCH: Final = datetime(1970, 1, 1, tzinfo=UTC)


def started(started_utc: str) -> datetime | None:
    """Return when a session began; None if its label says no time with an offset."""
    try:
        when = datetime.fromisoformat(started_utc)
    except ValueError:
        return None
    return None if when.tzinfo is None else when.astimezone(UTC)


def epoch_ns(when: datetime) -> int:
    """Return nanoseconds since 1970, which a float would round."""
    since = when - _EPOCH
    return (since.days * _S_PER_DAY + since.seconds) * _NS_PER_S + since.microseconds * 1000


class Stamps:
    """Writes moments of one session.

    Args:
        started_utc: the label in the head.
        zone: for local time; None for this computer's own.
        point: decimal sign of seconds and of local time.
    """

    __slots__ = ("_begun_s", "_last", "_lead_ms", "_point", "_texts")

    def __init__(self, started_utc: str, zone: tzinfo | None, point: str = ".") -> None:
        begun = started(started_utc)
        self._point = point
        self._last: tuple[int, tuple[str, str, str]] | None = None
        self._lead_ms = 0 if begun is None else round(begun.microsecond / 1000)
        self._begun_s = None if begun is None else begun.replace(microsecond=0)

        # Readings of a class share their seconds, and a calendar costs more than a look-up.
        @lru_cache(maxsize=256)
        def texts(second: int) -> tuple[str, str]:
            if self._begun_s is None:
                return "", ""
            try:
                utc = self._begun_s + timedelta(seconds=second)
                local = utc.astimezone(zone)
            except (OverflowError, OSError):  # beyond the calendar, or beyond what a system knows
                return "", ""
            return f"{utc:%Y-%m-%dT%H:%M:%S}", f"{local:%Y-%m-%d %H:%M:%S}"

        self._texts = texts

    def write(self, t_ns: int) -> tuple[str, str, str]:
        """Return seconds since the beginning, UTC and local time; the latter empty if unknown."""
        if self._last is not None and self._last[0] == t_ns:  # several values of one packet
            return self._last[1]
        self._last = t_ns, self._fresh(t_ns)
        return self._last[1]

    def _fresh(self, t_ns: int) -> tuple[str, str, str]:
        ms = (t_ns + _NS_PER_MS // 2) // _NS_PER_MS
        whole, rest = divmod(ms, _MS_PER_S)
        since = f"{whole}{self._point}{rest:03d}"
        second, milli = divmod(ms + self._lead_ms, _MS_PER_S)
        utc, local = self._texts(second)
        if not utc:
            return since, "", ""
        return since, f"{utc}.{milli:03d}Z", f"{local}{self._point}{milli:03d}"
