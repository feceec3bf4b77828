"""Which key does what: the one table behind the shortcuts and the help that lists them."""

from dataclasses import dataclass
from enum import Enum, auto
from typing import Final

from livemon.tongue import marked


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
        shown: as people say them; to be looked up, as `does`.
    """

    action: Action
    keys: tuple[str, ...]
    shown: str
    does: str


_MARKING: Final = (
    Key(Action.BOUT, ("Space",), marked("Space"), marked("begin a bout, or end it")),
    Key(Action.BOUT_ALL, ("Shift+Space",), marked("Shift Space"), marked("the same for everybody")),
    Key(Action.NOTE, ("M",), "M", marked("write a note, or a value: rpe 7, la 4.2")),
    Key(Action.UNDO, ("U", "Ctrl+Z"), "U", marked("take the last mark back")),
)
_LOOKING: Final = (
    Key(Action.LANES, ("L",), "L", marked("all athletes as lanes")),
    Key(Action.BELOW, ("Down",), "↓", marked("select the lane below")),
    Key(Action.ABOVE, ("Up",), "↑", marked("select the lane above")),
    Key(Action.OPEN, ("Return", "Enter"), marked("Enter"), marked("open the selected lane")),
    Key(Action.PIN, ("H",), "H", marked("hold the lane on top, or let it go")),
    Key(Action.NEXT, ("Right",), "→", marked("next athlete")),
    Key(Action.PREVIOUS, ("Left",), "←", marked("previous athlete")),
    Key(Action.SEEN, ("A",), "A", marked("the warning has been seen")),
    Key(Action.ASIDE, ("S",), "S", marked("set warnings aside for 5 min, or put them back")),
    Key(Action.OUT, ("O",), "O", marked("take out of service, or put back")),
    Key(Action.VALUES, ("V",), "V", marked("table of all values, and the log of warnings")),
    Key(Action.BOUTS, ("B",), "B", marked("bouts so far, in a window of their own")),
    Key(Action.FULL_SCREEN, ("F", "F11"), "F", marked("full screen")),
    Key(Action.THEME, ("T",), "T", marked("dark, light")),
    Key(Action.SOUND, ("N",), "N", marked("sound on, and heard once; or off")),
    Key(
        Action.MUTE,
        ("Shift+N",),
        marked("Shift N"),
        marked("mute the chosen athlete, or no longer"),
    ),
    Key(
        Action.SETTINGS, (",", "Ctrl+,"), ",", marked("settings, and from how far this can be read")
    ),
    Key(Action.HELP, ("?", "F1"), "?", marked("this list")),
    Key(Action.BACK, ("Esc",), marked("Esc"), marked("back")),
    Key(Action.CLOSE, ("Ctrl+Q",), marked("Ctrl Q"), marked("end the session in good order")),
)

LIVE_KEYS: Final = (
    *_MARKING,
    Key(Action.KIT, ("K",), "K", marked("sensors, who wears them, resting baseline")),
    Key(Action.PLAN, ("P",), "P", marked("choose a plan, for everybody or for one")),
    Key(Action.JOIN, ("J",), "J", marked("how relays join: code and QR code")),
    *_LOOKING,
)

#: What happened has happened: a replay takes no marks.
REPLAY_KEYS: Final = (
    *_LOOKING,
    Key(Action.PAUSE, ("P",), "P", marked("pause, go on")),
    Key(Action.FASTER, ("+", "="), "+", marked("twice as fast")),
    Key(Action.SLOWER, ("-",), "−", marked("half as fast")),
)
