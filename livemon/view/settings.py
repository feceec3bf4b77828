"""What a person may choose about the screen."""

from dataclasses import dataclass
from enum import Enum
from typing import Final

#: A bout of five minutes and the recovery before it fit (common practice, no source).
_WINDOW_S: Final = 360.0
#: Where the athlete stands while pacing from a laptop on a bench (common practice, no source).
_DISTANCE_M: Final = 3.0
#: Most cells sag fast below this; time to charge or change (common practice, no source).
_BATTERY_LOW_PCT: Final = 20


class ThemeChoice(Enum):
    """Which theme is wanted."""

    SYSTEM = "system"
    DARK = "dark"
    LIGHT = "light"


@dataclass(frozen=True, slots=True)
class ViewSettings:
    """Defaults with their reasons above.

    Attributes:
        window_s: how much of the past the strip chart shows.
        distance_m: from which the primary numbers should be readable.
        pixel_mm: measured size of a pixel; None believes what the screen reports, which is
            often wrong.
        motion: False keeps everything still: no blinking frame, no sliding lanes.
    """

    window_s: float = _WINDOW_S
    distance_m: float = _DISTANCE_M
    pixel_mm: float | None = None
    theme: ThemeChoice = ThemeChoice.SYSTEM
    motion: bool = True
    battery_low_pct: int = _BATTERY_LOW_PCT
