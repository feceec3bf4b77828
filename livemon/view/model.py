"""What a page shows: every word, number and place, ready to be drawn or printed.

Frozen and free of Qt, so that all that a coach can read is tested without a screen. Only curves
are kept as trails, because a picture needs more points than words.
"""

from dataclasses import dataclass, field
from enum import Enum

from livemon.series.ring import Trail
from livemon.warn.priority import Priority


class Tone(Enum):
    """How a value is to be taken; the theme knows what that looks like."""

    FRESH = "fresh"  #: as it is now
    OLD = "old"  #: grey, and its age stands beside it
    ABSENT = "absent"  #: a dash
    FAULT = "fault"  #: the sensor is at fault, not the body


@dataclass(frozen=True, slots=True)
class Tilt:
    """A trend as a line to be inclined inside the wedge that is its interval; %/min.

    Attributes:
        sure: False leaves the line out: only the wedge is known.
    """

    slope: float
    low: float
    high: float
    sure: bool = True


@dataclass(frozen=True, slots=True)
class HeartRateModel:
    """Heart rate, the band to hold and where in it the athlete is."""

    text: str
    tone: Tone
    line: str  #: "in band, steady for 2:10"
    bpm: float | None  #: for the pointer; None when it must not point
    band: tuple[int, int] | None
    spoken: str  #: the whole of it as a sentence, for a screen reader


@dataclass(frozen=True, slots=True)
class SiteModel:
    """One muscle site."""

    name: str
    text: str
    tone: Tone
    balance: str
    rate: str  #: "−4.1 %/min"; a dash when not known
    interval: str  #: "(−5.0 to −3.2)"; empty when not known
    detail: str  #: the one thing worth adding: room, refilling, baseline, or a sensor's fault
    tilt: Tilt | None
    warning: Priority | None
    spoken: str
    further: str | None = None  #: half-recovery time; empty keeps its place, None has none


@dataclass(frozen=True, slots=True)
class EffortModel:
    """One quantity that says how hard the work is, or arterial saturation."""

    name: str
    text: str  #: "3.52 m/s"
    tone: Tone
    age: str  #: "6 s ago", or why there is no value; empty for a fresh one

    @property
    def whole(self) -> str:
        """Value and age on one line."""
        return f"{self.text}, {self.age}" if self.age else self.text


@dataclass(frozen=True, slots=True)
class WatchModel:
    """The line that says whether a warning is on, and if not, whether one could be."""

    priority: Priority | None
    sentence: str
    fault: bool  #: the sentence is about a sensor
    calls: bool = True  #: the frame may blink: nobody has seen this warning yet
    announces: bool = False  #: the sentence says what the plan has next


@dataclass(frozen=True, slots=True)
class ClockModel:
    """The bout clock."""

    title: str  #: "Bout 2 · rowing"; "Recovery after bout 2"; empty outside bouts
    elapsed: str  #: "3:12"; "1:48" of what is planned; "+0:12" beyond that
    planned: str  #: "left of 5:00", "over 5:00"; empty where no time is planned


@dataclass(frozen=True, slots=True)
class CurveModel:
    """One line of the strip chart.

    Attributes:
        place: which of the lane's sites it is, counted from 0; colour and marker follow from it.
        forecast: (soonest_s, latest_s, low) of the fan from now to the athlete's own low.
    """

    place: int
    label: str
    value: str
    tone: Tone
    last: float | None
    own_low: float | None
    forecast: tuple[float, float, float] | None
    trail: Trail = field(compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class BoutMark:
    """A bout or recovery as a bracket over the chart."""

    start_s: float
    end_s: float | None
    label: str
    resting: bool


@dataclass(frozen=True, slots=True)
class WarningMark:
    """A warning as a mark under the curves, and the curve that it stands for."""

    on_s: float
    off_s: float | None
    place: int
    priority: Priority


@dataclass(frozen=True, slots=True)
class ChartModel:
    """The last minutes."""

    now_s: float
    window_s: float
    sites: tuple[CurveModel, ...]
    heart_rate: CurveModel
    band: tuple[int, int] | None
    bouts: tuple[BoutMark, ...]
    warnings: tuple[WarningMark, ...]
    summary: str  #: in words, for a screen reader


@dataclass(frozen=True, slots=True)
class PaceModel:
    """All that the Pace page shows of one athlete."""

    athlete: str
    name: str
    clock: ClockModel
    remarks: tuple[str, ...]  #: quiet words at the edge: batteries that run low, lost links
    heart_rate: HeartRateModel
    sites: tuple[SiteModel, ...]
    watch: WatchModel
    chart: ChartModel
    table: tuple[tuple[str, str], ...]  #: every value by name, for the value table
    effort: tuple[EffortModel, ...] = ()  #: what says how hard the work is, where it is measured
