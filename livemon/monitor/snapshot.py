"""The state at one moment, immutable: all that views, networks and logs ever get to see.

Every number has an age and a trust. None means "not known".
"""

from dataclasses import dataclass, field
from enum import Enum

from livemon.decode.samples import IntensitySource
from livemon.estimate.balance import Balance
from livemon.estimate.steadiness import Steadiness
from livemon.estimate.trend import Forecast, Trend
from livemon.series.effort import Effort
from livemon.series.ring import Trail
from livemon.warn.priority import Priority


class Trust(Enum):
    """May this number be believed?"""

    GOOD = "good"
    STALE = "stale"  #: older than three of its periods; shown grey, with its age
    NO_CONTACT = "no contact"  #: the sensor says that it touches no skin
    SUSPECT = "suspect"  #: it jumped as no body does; a technical fault
    ABSENT = "absent"  #: nothing has come yet, or nothing that could be used


@dataclass(frozen=True, slots=True)
class HeartRateState:
    """One athlete's heart rate."""

    bpm: float | None
    age_s: float | None  #: of `bpm`
    trust: Trust
    contact: bool | None
    steadiness: Steadiness
    steady_for_s: float | None
    drift_bpm_per_min: float | None
    trail: Trail = field(compare=False, repr=False)  #: recent beats per minute, for drawing


@dataclass(frozen=True, slots=True)
class WarningState:
    """A warning that is on, with the evidence for the sentence that explains it."""

    priority: Priority
    on_t_s: float
    fall_rate_pct_per_min: float
    falling_for_s: float
    bpm: float | None  #: the heart rate that holds; None when it is not known


@dataclass(frozen=True, slots=True)
class SiteState:
    """One muscle site."""

    site: str
    smo2_pct: float | None
    thb: float | None
    age_s: float | None  #: of `smo2_pct`
    trust: Trust
    trend: Trend | None
    balance: Balance
    baseline_pct: float | None  #: resting level, if one was taken
    own_low_pct: float | None  #: lowest level held at this placement, or seen earlier
    room_pct: float | None  #: points between now and the own low
    forecast: Forecast | None  #: None when it would be a guess
    warning: WarningState | None
    trail: Trail = field(compare=False, repr=False)  #: recent SmO2, for drawing
    contact: bool | None = None  #: with the skin, as the sensor says; None where it can't tell
    quality_pct: float | None = None  #: the sensor's own trust in its reading, where it tells


@dataclass(frozen=True, slots=True)
class AthleteSnapshot:
    """What `Monitor.snapshot()` gives: one athlete, without names, sensors or marks.

    Attributes:
        refused: how many samples were not used, by reason.
    """

    t_s: float
    heart_rate: HeartRateState
    sites: tuple[SiteState, ...]
    refused: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class BoutState:
    """A bout or recovery that is going on, from marks."""

    number: int  #: 1 for the first bout of the session
    kind: str  #: what kind of work, in the words of whoever marked it; may be empty
    resting: bool  #: a recovery, not a bout
    started_s: float
    planned_s: float | None
    planned_m: float | None = None
    refill_pct: float | None = None  #: a recovery is to end at this share of baseline


@dataclass(frozen=True, slots=True)
class RefillState:
    """How far one muscle has refilled in the recovery that goes on.

    Attributes:
        share_pct: SmO2 now in % of baseline; can pass 100, as muscles overshoot.
        of_baseline: False where none was taken: the share is of the level before the first work.
        after_s: since the work ended.
        half_s: the half-recovery time, as soon as it is known.
    """

    site: str
    share_pct: float | None
    of_baseline: bool
    after_s: float
    half_s: float | None


@dataclass(frozen=True, slots=True)
class PlanState:
    """Where a plan is, from its marks.

    Attributes:
        name: of the plan; may be empty, as in a recording made for sharing; so may all words.
        number: of the step that goes on, from 1; 0 when the plan is over.
        now: the step in words.
        following: the next one in words; empty after the last.
        started_s: when the step began, or the plan ended.
        planned_s: how long the step lasts at most; None if it ends by hand.
        refill_pct: the share of baseline at which it ends.
    """

    name: str
    number: int
    count: int
    now: str
    following: str
    started_s: float
    planned_s: float | None
    refill_pct: float | None


@dataclass(frozen=True, slots=True)
class EffortState:
    """One quantity that says how hard the work is; `effort` names its unit.

    Attributes:
        age_s: of `value`.
        source: what kind of work it was measured in; says what a cadence counts.
        sensor: our own id of the sensor that it is taken from.
    """

    effort: Effort
    value: float
    age_s: float | None
    trust: Trust
    source: IntensitySource
    sensor: str


@dataclass(frozen=True, slots=True)
class ArterialState:
    """Arterial saturation by pulse oximetry. It says nothing about a muscle.

    Attributes:
        age_s: of `spo2_pct`.
    """

    spo2_pct: float | None
    pulse_bpm: float | None
    age_s: float | None
    trust: Trust


@dataclass(frozen=True, slots=True)
class SensorState:
    """A sensor as the session knows it."""

    sensor: str
    name: str
    linked: bool
    silent_for_s: float | None  #: since its last notification; None before the first
    battery_pct: int | None


@dataclass(frozen=True, slots=True)
class LaneState:
    """One athlete with everything that belongs to them."""

    athlete: str
    name: str
    band_bpm: tuple[int, int] | None
    state: AthleteSnapshot
    bout: BoutState | None
    bouts: tuple[tuple[float, float | None, str, bool], ...]  #: (start_s, end_s, kind, resting)
    warnings: tuple[tuple[float, float | None, str, Priority], ...]  #: (on_s, off_s, site, highest)
    sensors: tuple[SensorState, ...]
    refill: tuple[RefillState, ...] = ()  #: one for each site, while a recovery goes on
    plan: PlanState | None = None  #: None before a plan
    effort: tuple[EffortState, ...] = ()  #: what sensors or machines have measured so far
    arterial: ArterialState | None = None  #: None where no pulse oximeter has been heard


@dataclass(frozen=True, slots=True)
class SessionSnapshot:
    """Everybody, at one moment."""

    t_s: float
    started_utc: str
    lanes: tuple[LaneState, ...]
    rejected: tuple[tuple[str, int], ...]  #: notifications that could not be decoded, by reason
    ended: bool
