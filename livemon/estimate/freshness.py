"""How old is the last sample, and is that old for this sensor?

The period is learned from the data: sensors send 0.5 to 10 times a second, and a radio holds
packets back and delivers them in bursts.
"""

from typing import Final

_PERIODS: Final = 3  #: missed periods after which a value is stale
_AT_LEAST_US: Final = 3_000_000
_WEIGHT: Final = 0.1  #: of a new interval: about ten samples to learn
_LONGEST_US: Final = 10_000_000  #: a longer interval is an interruption, not a period


class Freshness:
    """Age and staleness of one channel."""

    __slots__ = ("_last_us", "_period_us")

    def __init__(self) -> None:
        self._last_us: int | None = None
        self._period_us = 1_000_000.0

    def seen(self, t_us: int) -> None:
        """A sample that was used came at `t_us`."""
        last_us = self._last_us
        self._last_us = t_us
        if last_us is None or t_us - last_us > _LONGEST_US:
            return
        self._period_us += _WEIGHT * (t_us - last_us - self._period_us)

    def age_s(self, t_us: int) -> float | None:
        """Return the last sample's age, or None if there was none."""
        return None if self._last_us is None else (t_us - self._last_us) / 1e6

    def stale(self, t_us: int) -> bool:
        """Is the last sample older than three of its periods?"""
        if self._last_us is None:
            return True
        return t_us - self._last_us > max(_PERIODS * self._period_us, _AT_LEAST_US)
