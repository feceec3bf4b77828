"""Judge a link by the age of its data: the only sign of life that can be believed.

A system may report a link as connected long after the sensor went away, and the word that a link
ended may come 20 s late or never. This is arithmetic on times; it looks at no clock.
"""

from dataclasses import dataclass
from enum import Enum
from typing import Final

SECOND_NS: Final = 1_000_000_000
#: Three missed periods and three seconds: a class of straps at 1 Hz loses single packets often.
_MISSED_PERIODS: Final = 3
_STALE_AT_LEAST_S: Final = 3.0
#: A sensor that sends rarely must miss this many before its link is broken up.
_DEAD_PERIODS: Final = 4


class Silence(Enum):
    """How long nothing has come, in three steps."""

    NONE = "none"
    STALE = "stale"  #: the last value must no longer be shown as fresh
    DEAD = "dead"  #: the link is broken up and opened afresh


@dataclass(frozen=True, slots=True)
class Patience:
    """How long a sensor may be silent."""

    stale_after_ns: int
    dead_after_ns: int

    @classmethod
    def for_period(cls, period_s: float, dead_after_s: float = 12.0) -> "Patience":
        """Return what suits a sensor that sends every `period_s` seconds."""
        stale_s = max(_MISSED_PERIODS * period_s, _STALE_AT_LEAST_S)
        dead_s = max(dead_after_s, _DEAD_PERIODS * period_s, stale_s)
        return cls(round(stale_s * SECOND_NS), round(dead_s * SECOND_NS))


def silence(now_ns: int, heard_ns: int, patience: Patience) -> Silence:
    """Say how a link stands that was last heard (or opened) at `heard_ns`."""
    age_ns = now_ns - heard_ns
    if age_ns >= patience.dead_after_ns:
        return Silence.DEAD
    if age_ns >= patience.stale_after_ns:
        return Silence.STALE
    return Silence.NONE
