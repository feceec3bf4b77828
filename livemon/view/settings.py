"""What a person may choose about the screen, each with its default and the reason for it."""

from dataclasses import dataclass
from enum import Enum
from typing import Final

from livemon.tongue import marked


class ThemeChoice(Enum):
    """Which theme is wanted."""

    SYSTEM = "system"
    DARK = "dark"
    LIGHT = "light"


#: The choices as they are shown.
THEME_WORDS: Final = {
    ThemeChoice.SYSTEM: marked("system"),
    ThemeChoice.DARK: marked("dark"),
    ThemeChoice.LIGHT: marked("light"),
}


@dataclass(frozen=True, slots=True)
class ViewSettings:
    """All that may be chosen; the reasons stand in REASONS below.

    Attributes:
        window_s: how much of the past the strip chart shows.
        distance_m: from which the primary numbers should be readable.
        pixel_mm: measured size of a pixel; None believes what the screen reports.
        motion: False keeps everything still: no frame blinks.
        sound: whether warnings that call, and steps of a plan, are heard, too.
        speech: whether they are also spoken.
        awake: whether the screen is kept from going to sleep while a session is live.
        battery_low_pct: at and below this a battery is spoken of.
    """

    window_s: float = 360.0
    distance_m: float = 3.0
    pixel_mm: float | None = None
    theme: ThemeChoice = ThemeChoice.SYSTEM
    motion: bool = True
    sound: bool = False
    speech: bool = False
    awake: bool = True
    battery_low_pct: int = 20


#: Why each default is what it is; shown beside it. All are common practice without a source,
#: unless one is named.
REASONS: Final = {
    "window_s": marked("A bout of five minutes and the end of the recovery before it fit."),
    "distance_m": marked("From a laptop on a bench to whoever trains before it."),
    "pixel_mm": marked("Screens often report their size wrongly; measure the bar with a ruler."),
    "theme": marked(
        "As the system does; dark dazzles less in a dim hall, light reads better in sun."
    ),
    "motion": marked("A blinking frame is seen from the corner of the eye. Words never blink."),
    "sound": marked("Off: a hall is loud, and a chime tells everybody. Turning it on plays one."),
    "speech": marked(
        "Off: for training alone, with the screen out of sight. Needs sound to be on."
    ),
    "awake": marked("A screen that goes dark warns nobody. Off saves a battery."),
    "battery_low_pct": marked(
        "Most cells sag fast below this; time to charge before the next session."
    ),
}
