"""How each sensor's link stands, as an immutable record for the Kit page."""

from dataclasses import dataclass
from enum import Enum

from livemon.decode.body_location import BodyLocation
from livemon.link.radio import Sighting


class LinkState(Enum):
    """Where a link stands. Only LIVE means that data come.

    SEARCHING ─▶ OPENING ─▶ OPEN ─▶ LIVE ◀─▶ SILENT
        ▲  ▲        │         │       │         │
        │  └─ ASKING▼         ▼       ▼         ▼
        └───────── WAITING (or REFUSED, until a person acts)
    """

    SEARCHING = "searching"
    ASKING = "asking"  #: a device may be the one, or another; a person has to say
    OPENING = "opening"
    OPEN = "open"  #: the link stands, nothing has come on it yet
    LIVE = "live"
    SILENT = "silent"  #: the link stands and the data are stale
    WAITING = "waiting"  #: a moment's rest before the next attempt
    REFUSED = "refused"  #: the sensor wants a pairing; no attempt until a person says so
    STOPPED = "stopped"


class Cause(Enum):
    """Why the last link or attempt came to nothing, by what a person might do about it."""

    NONE = "none"  #: none has failed yet
    LOST = "lost"
    NOT_FOUND = "not found"  #: the system does not find a sensor that was heard a moment ago
    REFUSED = "refused"  #: it wants a pairing
    MISTAKE = "mistake"  #: of livemon's own


@dataclass(frozen=True, slots=True)
class Details:
    """What a sensor says of itself; None where it says nothing. The serial number is kept apart."""

    manufacturer: str | None = None
    model: str | None = None
    firmware: str | None = None
    worn_on: BodyLocation | None = None


@dataclass(frozen=True, slots=True)
class Counters:
    """What happened so far.

    Attributes:
        notifications: written down.
        doubles: suspect doubles, dropped.
        strays: came on a link that had been given up, dropped.
        opened: links opened.
        lost: links that ended without us wanting it.
        failed: attempts that opened no link.
    """

    notifications: int = 0
    doubles: int = 0
    strays: int = 0
    opened: int = 0
    lost: int = 0
    failed: int = 0


@dataclass(frozen=True, slots=True)
class LinkStatus:
    """One sensor's link at one moment.

    Attributes:
        since_ns: when `state` began.
        missing_since_ns: when data stopped coming; None while they come.
        battery_ns: when the battery was read.
        generation: which link this is, counted from 1; 0 before the first.
        candidates: while ASKING, the devices that could be meant.
        hint: what is wrong and what to do, in words; empty when nothing is.
    """

    sensor: str
    state: LinkState
    since_ns: int
    missing_since_ns: int | None
    rssi_dbm: int | None
    battery_pct: int | None
    battery_ns: int | None
    generation: int
    counters: Counters
    details: Details
    candidates: tuple[Sighting, ...]
    hint: str
