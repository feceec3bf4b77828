"""What the drain warning goes by: every threshold with its unit and the reason for its default."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class WarnSettings:
    """Thresholds of the drain warning; the defaults are those whose error rates are published."""

    #: A fall must be steeper than this beyond doubt; slower ones can be the wander of a muscle at
    #: work or the slow component of heavy work, and level off by themselves.
    margin_pct_per_min: float = 1.3
    #: Standard errors beyond the margin before a fall is believed.
    certain_se: float = 3.0
    #: Standard errors by which a fall without known heart rate must be certain.
    deep_certain_se: float = 5.0
    #: Age that a fall without known heart rate must have.
    deep_age_s: int = 30
    #: Points that a fall without known heart rate must have lost.
    deep_lost_pct: float = 5.0
    #: Before this age heart rate can't show whether the load has changed.
    youngest_age_s: int = 12
    #: Seconds without a break that a fall must be believed before it is told.
    on_delay_s: int = 3
    #: Seconds without a break that its end must be believed.
    off_delay_s: int = 3
    #: Points below the lowest recent level that make a new low.
    new_low_pct: float = 0.7
    #: Part of the last refilling that a new low must lie below it: intervals repeat themselves.
    new_low_of_refill: float = 0.2
    #: Seconds that the lowest recent level is looked for in: longer than one 40/20 interval.
    recent_low_s: int = 90
    #: From this fall rate on a warning has priority drain.
    drain_pct_per_min: float = 8.0
    #: With less room than this a warning has priority drain.
    drain_room_pct: float = 5.0
