"""The line of one-second values for drawing, broken where nothing came for a while."""

from typing import Final

from livemon.series.ring import Ring, Trail

_BREAK_S: Final = 4  #: empty seconds after which the line is broken
_TRAIL_S: Final = 3600
_TRAIL_SPARE_S: Final = 60  #: so that a slow reader isn't overtaken by the writer


class Drawn:
    """One hour of a channel's line."""

    __slots__ = ("_last_ns", "_ring")

    def __init__(self) -> None:
        self._ring = Ring(_TRAIL_S + _TRAIL_SPARE_S)
        self._last_ns = 0

    def add(self, t_ns: int, value: float) -> None:
        """Draw on to `value`; what came too late, with the line broken behind it, stays out."""
        if t_ns > self._last_ns:
            self._last_ns = t_ns
            self._ring.append(t_ns, value)

    def empty(self, t_ns: int, empty_s: int) -> None:
        """Nothing to draw; it is the second number `empty_s` of that kind in a row."""
        if empty_s == _BREAK_S:
            self.add(t_ns, float("nan"))

    def trail(self) -> Trail:
        """Return the line as it is now."""
        return Trail(self._ring, self._ring.count, _TRAIL_S)
