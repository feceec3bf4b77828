"""What the Lanes page shows: every athlete as one strip, in words and numbers."""

from dataclasses import dataclass
from enum import IntEnum

from livemon.view.model import (
    ChartModel,
    ClockModel,
    EffortModel,
    HeartRateModel,
    SiteModel,
)
from livemon.warn.priority import Priority


class Urgency(IntEnum):
    """How soon somebody should look at a lane; the smallest number stands on top."""

    DRAIN = 0
    CAUTION = 1
    MISSED = 2  #: a warning that ended before anybody saw it
    FAULT = 3  #: a sensor gives nothing, so nobody is watched there
    INFORMATION = 4
    CALM = 5


@dataclass(frozen=True, slots=True)
class LaneModel:
    """One strip.

    Attributes:
        number: place in the roster, from 1; the number that people call and type.
        words: why somebody should look here; empty when nobody needs to.
        sites: in the order of the roster; which of them have room is decided when drawing.
    """

    athlete: str
    number: int
    name: str
    words: str
    priority: Priority | None
    urgency: Urgency
    heart_rate: HeartRateModel
    sites: tuple[SiteModel, ...]
    clock: ClockModel
    resting: bool
    chart: ChartModel
    pinned: bool
    spoken: str
    calls: bool = True  #: the frame may blink: nobody has seen this warning yet
    effort: EffortModel | None = None  #: power or speed, where one is measured


@dataclass(frozen=True, slots=True)
class LanesModel:
    """All strips, and one line about all of them."""

    title: str  #: "8 athletes · Bout 2 · rowing"
    summary: str  #: "1 drain · 2 cautions · 1 sensor fault"
    clock: ClockModel  #: of a class that works together; empty where lanes differ
    remarks: tuple[str, ...]
    lanes: tuple[LaneModel, ...]
    table: tuple[tuple[str, str], ...]  #: lane by lane in words, for the value table
