"""What `feed` and `advance` report: the changes that somebody may have to act on."""

from dataclasses import dataclass

from livemon.warn.priority import Priority


@dataclass(frozen=True, slots=True)
class WarningOn:
    """A drain warning began. One fall gives one of these, however it develops.

    Attributes:
        t_s: when, on the clock of the samples.
        fall_rate_pct_per_min: positive when falling.
        falling_for_s: how long the fall had lasted by then, as far as can be told.
        bpm: the heart rate that holds; None where the warning was given without one.
    """

    site: str
    t_s: float
    priority: Priority
    fall_rate_pct_per_min: float
    falling_for_s: float
    bpm: float | None


@dataclass(frozen=True, slots=True)
class WarningRaised:
    """A warning that is on became more urgent."""

    site: str
    t_s: float
    priority: Priority


@dataclass(frozen=True, slots=True)
class WarningOff:
    """A drain warning ended."""

    site: str
    t_s: float
    reason: str  #: "level", "heart rate moving", "no data", "slipped", "work stopped", ...


@dataclass(frozen=True, slots=True)
class Slipped:
    """The reading at a site jumped as no muscle does: a technical fault, not physiology."""

    site: str
    t_s: float
    step_pct: float


Change = WarningOn | WarningRaised | WarningOff | Slipped
