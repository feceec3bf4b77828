"""What the program tells the Kit page: plain facts, immutable, no words yet.

The view knows no Bluetooth; whoever does fills these in.
"""

from dataclasses import dataclass
from enum import Enum

from livemon.estimate.resting import RestingState

#: The reading of a sensor that speaks the Heart Rate Profile; others are names of adapters.
STRAP = ""
#: The reading of what measures work, or SpO2, by a standard profile; no adapter can be called so.
WORK = "work, by a standard profile"


class Standing(Enum):
    """Where a link stands."""

    SEARCHING = "searching"
    ASKING = "asking"
    OPENING = "opening"
    OPEN = "open"
    LIVE = "live"
    SILENT = "silent"
    WAITING = "waiting"
    REFUSED = "refused"
    STOPPED = "stopped"


@dataclass(frozen=True, slots=True)
class Device:
    """Something that can be heard, or that is remembered and can't.

    Attributes:
        key: by which commands name it.
        address: what the computer calls it; empty where it isn't heard.
        looks_like: what it says that it is.
        reading: how it can be read, if that is known: STRAP, WORK or an adapter's name.
        remembered: what we call it, if we have met it.
        usual: who wore it last, by name, and on which muscle.
        wheel_m: how far the wheel that it counts goes in one revolution, as last said.
    """

    key: str
    name: str | None
    address: str = ""
    rssi_dbm: int | None = None
    looks_like: tuple[str, ...] = ()
    reading: str | None = None
    remembered: str | None = None
    usual: tuple[str, str] = ("", "")
    wheel_m: float | None = None


@dataclass(frozen=True, slots=True)
class About:
    """What is known of a sensor beside its readings; None where it says nothing.

    Attributes:
        worn_on: where the sensor says that it is meant to be worn.
        battery_age_s: since the battery was read.
    """

    manufacturer: str | None = None
    model: str | None = None
    firmware: str | None = None
    worn_on: str | None = None
    rssi_dbm: int | None = None
    battery_age_s: float | None = None


@dataclass(frozen=True, slots=True)
class InUse:
    """A sensor that is looked after.

    Attributes:
        reading: STRAP, WORK or an adapter's name.
        wheel_m: how far the wheel that it counts goes in one revolution, if somebody said so.
        hint: what is wrong with its link and what to do; empty when nothing is.
        candidates: while ASKING, what may be meant.
    """

    sensor: str
    name: str
    reading: str
    athlete: str | None
    sites: tuple[str, ...]
    standing: Standing
    battery_pct: int | None = None
    hint: str = ""
    candidates: tuple[Device, ...] = ()
    about: About = About()  # frozen: one for all
    wheel_m: float | None = None


@dataclass(frozen=True, slots=True)
class Resting:
    """The resting baseline of one athlete, while it is taken or as it was found."""

    athlete: str
    running: bool
    sites: tuple[tuple[str, RestingState], ...]


@dataclass(frozen=True, slots=True)
class Known:
    """Somebody who is measured, or was in an earlier session.

    Attributes:
        adipose_mm: thickness of fat and skin over the muscle, if it was measured.
    """

    athlete: str
    name: str
    band: tuple[int, int] | None
    adipose_mm: float | None = None


@dataclass(frozen=True, slots=True)
class KitFacts:
    """Everything at one moment.

    Attributes:
        looking: a scan is wanted although nothing is missing.
        everything: also what does not look like a sensor is listed.
        trouble: why Bluetooth can't be used; empty if it can.
        adapters: names of the adapters that can be chosen.
        known: everybody met before.
        there: everybody in this session.
        outcome: what the last wish led to, line by line.
        wishes: how many there were, so that the same words again are seen as new.
    """

    looking: bool = False
    everything: bool = False
    trouble: str = ""
    nearby: tuple[Device, ...] = ()
    in_use: tuple[InUse, ...] = ()
    adapters: tuple[str, ...] = ()
    resting: tuple[Resting, ...] = ()
    known: tuple[Known, ...] = ()
    there: tuple[Known, ...] = ()
    outcome: tuple[str, ...] = ()
    wishes: int = 0
