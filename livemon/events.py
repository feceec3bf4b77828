"""What enters: the only things the core is ever told.

Everything else (numbers, trends, warnings) follows from these, so a recording of them replays
into the same session. Times are integer nanoseconds since the session began, from a clock that
only moves forward; nothing here knows how they were taken.
"""

from dataclasses import dataclass

#: A mark's details: text, a number with its unit in the key, or None for "not known".
MarkValue = str | int | float | None


@dataclass(frozen=True, slots=True)
class Athlete:
    """Somebody who is measured."""

    athlete: str  #: our own id; never a name
    name: str  #: shown on the screen; may be empty in a recording that was made for sharing
    band_bpm: tuple[int, int] | None = None  #: heart-rate band to hold
    adipose_mm: float | None = None  #: adipose tissue thickness under the probe, if known
    own_low_pct: tuple[tuple[str, float], ...] = ()  #: lowest SmO2 seen earlier, by site


@dataclass(frozen=True, slots=True)
class Sensor:
    """A device and how its bytes are to be read.

    Attributes:
        sensor: our own id.
        name: for people.
        adapter: name of the oxygenation adapter; None for one that speaks standard profiles only.
    """

    sensor: str
    name: str
    adapter: str | None = None


@dataclass(frozen=True, slots=True)
class Notification:
    """Bytes that a sensor sent."""

    t_ns: int
    sensor: str  #: our own id of the sensor
    characteristic: str  #: 128-bit UUID in lower case
    payload: bytes


@dataclass(frozen=True, slots=True)
class LinkUp:
    """A sensor's link is open; nothing need have arrived on it yet."""

    t_ns: int
    sensor: str


@dataclass(frozen=True, slots=True)
class LinkDown:
    """A sensor's link ended."""

    t_ns: int
    sensor: str
    reason: str  #: for people


@dataclass(frozen=True, slots=True)
class Assigned:
    """From now on this sensor's samples belong to this athlete.

    Attributes:
        athlete: our own id; None takes the sensor off.
        sites: muscle site of each channel of an oximeter, in the adapter's order; empty for a
            strap. Samples that came before stay where they were.
        wheel_m: how far the wheel that a cycling sensor counts goes in one revolution; None
            where nobody said, and then there is no speed.
    """

    t_ns: int
    sensor: str
    athlete: str | None
    sites: tuple[str, ...] = ()
    wheel_m: float | None = None


@dataclass(frozen=True, slots=True)
class SensorAdded:
    """A sensor that the head does not know joined, or is to be read differently from now on."""

    t_ns: int
    sensor: Sensor
    adapter_text: str | None = None  #: TOML of `sensor.adapter`, unless the head has it


@dataclass(frozen=True, slots=True)
class AthleteChanged:
    """An athlete joined, or their name, band or own low was changed."""

    t_ns: int
    athlete: Athlete


@dataclass(frozen=True, slots=True)
class Mark:
    """Something a person said: a bout began, a lactate sample was taken, the band is changed.

    Attributes:
        mark: id of this mark, unique in the recording.
        athlete: whom it is about; None means everybody.
        kind: one of the kinds that `livemon.monitor.marks` knows; others are kept, not used.
        details: pairs of key and value, units in the keys.
        at_ns: when it happened, if it was entered late; None means at `t_ns`.
        replaces: id of the mark that this one corrects; kind "withdrawn" takes it back.
    """

    t_ns: int
    mark: str
    athlete: str | None
    kind: str
    details: tuple[tuple[str, MarkValue], ...] = ()
    at_ns: int | None = None
    replaces: str | None = None


@dataclass(frozen=True, slots=True)
class Gap:
    """Nobody was watching for a while: the computer slept, or the clock jumped.

    Windows and warnings start afresh after it; nothing is drawn across it.
    """

    t_ns: int
    missed_ns: int
    reason: str


@dataclass(frozen=True, slots=True)
class End:
    """The session was closed in good order."""

    t_ns: int


Event = (
    Notification | LinkUp | LinkDown | SensorAdded | AthleteChanged | Assigned | Mark | Gap | End
)


@dataclass(frozen=True, slots=True)
class Head:
    """What stands at the head of a recording: all that is needed to read the rest anywhere.

    Attributes:
        started_utc: wall clock at `t_ns` 0, ISO 8601 with offset; a label, never calculated with.
        adapters: the adapters in use, as pairs of name and TOML text.
        assigned: who wears what at the start (`t_ns` 0).
    """

    started_utc: str
    session: str
    athletes: tuple[Athlete, ...] = ()
    sensors: tuple[Sensor, ...] = ()
    adapters: tuple[tuple[str, str], ...] = ()
    assigned: tuple[Assigned, ...] = ()
