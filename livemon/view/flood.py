"""Too many warnings at once help nobody: notice a flood, and when it is over.

ISA-18.2 lets a flood begin with more than ten new alarms in ten minutes and end below five.
"""

from dataclasses import dataclass
from typing import Final

_WINDOW_S: Final = 600.0
_BEGINS_ABOVE: Final = 10
_ENDS_BELOW: Final = 5


@dataclass(frozen=True, slots=True)
class Flood:
    """When the warnings of the last ten minutes began, and whether it is a flood."""

    begun_s: tuple[float, ...] = ()
    on: bool = False

    def after(self, new: int, t_s: float) -> "Flood":
        """Return the state after `new` warnings began now."""
        begun_s = (*(at for at in self.begun_s if t_s - at < _WINDOW_S), *([t_s] * new))
        if begun_s == self.begun_s:
            return self
        limit = _ENDS_BELOW - 1 if self.on else _BEGINS_ABOVE
        return Flood(begun_s, len(begun_s) > limit)

    @property
    def count(self) -> int:
        """How many warnings began in the last ten minutes."""
        return len(self.begun_s)
