"""The athlete's own low at this placement: the lowest level that was held, not a spike.

A low is *held* when a mean over ten seconds lay there, and *left* when the level has risen clearly
above it since; before that it is still being made, and nothing can be measured against it. A low
that a fall ran into says more than one where a bout was simply level; only the former, or one
known from earlier, makes "at low".
"""

from typing import Final

_LEFT_PCT: Final = 5.0  #: points above a low that count as having left it


class OwnLow:
    """The own low, learned from ten-second levels.

    Args:
        earlier_pct: lowest level from an earlier session at this placement, if known.
    """

    __slots__ = ("_lowest", "_ran_into", "by_fall", "pct")

    def __init__(self, earlier_pct: float | None) -> None:
        self.pct = earlier_pct
        self.by_fall = earlier_pct is not None  #: known to be where a fall ends
        self._lowest: float | None = None
        self._ran_into = False

    def shift(self, step_pct: float) -> None:
        """The sensor slipped by this much."""
        if self.pct is not None:
            self.pct = min(max(self.pct + step_pct, 0.0), 100.0)
        if self._lowest is not None:
            self._lowest += step_pct

    def update(self, level_pct: float, *, falling: bool) -> None:
        """Take the mean of the last ten seconds; `falling` while a drain is being warned of."""
        if self._lowest is None or level_pct < self._lowest:
            self._lowest = level_pct
            self._ran_into = self._ran_into or falling
        if level_pct < self._lowest + _LEFT_PCT:
            return
        if self.pct is None or self._lowest < self.pct:
            self.pct = max(self._lowest, 0.0)
            self.by_fall = self._ran_into
        self._lowest = level_pct
        self._ran_into = False
