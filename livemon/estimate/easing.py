"""Has work eased or stopped? Seen from heart rate, when nobody says so.

After work, SmO2 overshoots its resting level and comes down again for minutes while heart rate
hardly moves: a fall that is none. What gives it away is that heart rate is far below what it was.
"""

from typing import Final

#: Further down than drift, wander and a change of grip take it (from memory).
_EASED_BPM: Final = 15.0


class Easing:
    """Is heart rate well below what it was, and not on its way up again?"""

    __slots__ = ("_highest", "_lowest", "eased")

    def __init__(self) -> None:
        self._highest = self._lowest = 0.0
        self.eased = False

    def update(self, bpm: float) -> None:
        """Take a mean of some ten seconds."""
        self._highest = max(self._highest, bpm)
        if not self.eased:
            self.eased, self._lowest = bpm < self._highest - _EASED_BPM, bpm
            return
        self._lowest = min(self._lowest, bpm)
        if bpm > self._lowest + _EASED_BPM:
            self.eased, self._highest = False, bpm
