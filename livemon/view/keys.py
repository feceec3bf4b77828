"""Which key does what: the one table behind the shortcuts and the help that lists them."""

from dataclasses import dataclass
from enum import Enum, auto
from typing import Final


class Action(Enum):
    """What a key can ask for."""

    BOUT = auto()
    BOUT_ALL = auto()
    NOTE = auto()
    UNDO = auto()
    NEXT = auto()
    PREVIOUS = auto()
    BELOW = auto()
    ABOVE = auto()
    LANES = auto()
    OPEN = auto()
    PIN = auto()
    KIT = auto()
    SEEN = auto()
    ASIDE = auto()
    OUT = auto()
    VALUES = auto()
    FULL_SCREEN = auto()
    THEME = auto()
    SOUND = auto()
    MUTE = auto()
    SETTINGS = auto()
    HELP = auto()
    BACK = auto()
    BOUTS = auto()
    JOIN = auto()
    CLOSE = auto()
    PLAN = auto()
    PAUSE = auto()
    FASTER = auto()
    SLOWER = auto()


@dataclass(frozen=True, slots=True)
class Key:
    """One line of the help.

    Attributes:
        keys: as Qt spells them; any of them will do.
        shown: as people say them.
    """

    action: Action
    keys: tuple[str, ...]
    shown: str
    does: str


_MARKING: Final = (
    Key(Action.BOUT, ("Space",), "Space", "begin a bout, or end it"),
    Key(Action.BOUT_ALL, ("Shift+Space",), "Shift Space", "the same for everybody"),
    Key(Action.NOTE, ("M",), "M", "write a note, or a value: rpe 7, la 4.2"),
    Key(Action.UNDO, ("U", "Ctrl+Z"), "U", "take the last mark back"),
)
_LOOKING: Final = (
    Key(Action.LANES, ("L",), "L", "all athletes as lanes"),
    Key(Action.BELOW, ("Down",), "↓", "select the lane below"),
    Key(Action.ABOVE, ("Up",), "↑", "select the lane above"),
    Key(Action.OPEN, ("Return", "Enter"), "Enter", "open the selected lane"),
    Key(Action.PIN, ("H",), "H", "hold the lane on top, or let it go"),
    Key(Action.NEXT, ("Right",), "→", "next athlete"),
    Key(Action.PREVIOUS, ("Left",), "←", "previous athlete"),
    Key(Action.SEEN, ("A",), "A", "the warning has been seen"),
    Key(Action.ASIDE, ("S",), "S", "set warnings aside for 5 min, or put them back"),
    Key(Action.OUT, ("O",), "O", "take out of service, or put back"),
    Key(Action.VALUES, ("V",), "V", "table of all values, and the log of warnings"),
    Key(Action.BOUTS, ("B",), "B", "bouts so far, in a window of their own"),
    Key(Action.FULL_SCREEN, ("F", "F11"), "F", "full screen"),
    Key(Action.THEME, ("T",), "T", "dark, light"),
    Key(Action.SOUND, ("N",), "N", "sound on, and heard once; or off"),
    Key(Action.MUTE, ("Shift+N",), "Shift N", "mute the chosen athlete, or no longer"),
    Key(Action.SETTINGS, (",", "Ctrl+,"), ",", "settings, and from how far this can be read"),
    Key(Action.HELP, ("?", "F1"), "?", "this list"),
    Key(Action.BACK, ("Esc",), "Esc", "back"),
    Key(Action.CLOSE, ("Ctrl+Q",), "Ctrl Q", "end the session in good order"),
)

LIVE_KEYS: Final = (
    *_MARKING,
    Key(Action.KIT, ("K",), "K", "sensors, who wears them, resting baseline"),
    Key(Action.PLAN, ("P",), "P", "choose a plan, for everybody or for one"),
    Key(Action.JOIN, ("J",), "J", "how relays join: code and QR code"),
    *_LOOKING,
)

#: What happened has happened: a replay takes no marks.
REPLAY_KEYS: Final = (
    *_LOOKING,
    Key(Action.PAUSE, ("P",), "P", "pause, go on"),
    Key(Action.FASTER, ("+", "="), "+", "twice as fast"),
    Key(Action.SLOWER, ("-",), "−", "half as fast"),
)
