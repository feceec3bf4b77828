"""What the drain warning goes by: every threshold with its unit and the reason for its default."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class WarnSettings:
    """Thresholds of the drain warning; the defaults are those whose error rates are published."""

    #: A fall must be steeper than this beyond doubt; slower ones can be the wander of a muscle at
    #: work or the slow component of heavy work, and level off by themselves.
    margin_pct_per_min: float = 1.0
    #: Standard errors beyond the margin before a fall is believed.
    certain_se: float = 2.4
    #: Standard errors by which a fall without known heart rate must be certain.
    deep_certain_se: float = 6.0
    #: Age that a fall without known heart rate must have.
    deep_age_s: int = 45
    #: Points that a fall without known heart rate must have lost.
    deep_lost_pct: float = 8.0
    #: For so many seconds after a warning has ended, what is left of its fall can look like a new
    #: one; standard errors that are asked on top.
    again_s: int = 60
    again_se: float = 2.0
    #: Nats by which a ramp must describe the fall better than a single step.
    over_step_nats: float = 0.0
    #: Nats by which "a fall at constant load" must be likelier than "the onset of harder work",
    #: from the shape of the fall and from heart rate together.
    over_onset_nats: float = 0.7
    #: The same from the shape alone, without heart rate.
    shape_only_nats: float = 2.0
    #: For so many seconds after heart rate became steady, a fall that began before is looked for.
    just_steady_s: int = 150
    #: Standard errors by which it must be certain, and nats of its shape: an onset that has gone on
    #: for most of a minute has all but died out.
    straight_certain_se: float = 5.0
    straight_nats: float = 0.75
    #: The same over 80 s, more than three of an onset's time constants.
    long_straight_nats: float = 0.6
    #: Standard errors that the fall must show after a jump or a gap that lies within it.
    trouble_se: float = 2.5
    #: Before this age heart rate can't show whether the load has changed.
    youngest_age_s: int = 10
    #: Seconds between the first sight of a fall and the one that is told.
    on_delay_s: int = 2
    #: Seconds that may lie between two sights of a fall that is not told yet: noise hides it.
    patience_s: int = 6
    #: Seconds without a break that its end must be believed.
    off_delay_s: int = 3
    #: A fall is over when its slope is certainly not its rate any more, and milder than this part
    #: of it or this many %/min, whichever is less: a fall that only eases is still one.
    over_part: float = 0.5
    over_at_most: float = 2.5
    #: Standard errors that make it certain.
    over_se: float = 2.9
    #: Steeper than this upwards, work has stopped or eased.
    rising_pct_per_min: float = 3.0
    #: Standard errors that make it certain.
    rising_se: float = 2.4
    #: Points below the lowest recent level that make a new low.
    new_low_pct: float = 0.7
    #: Part of the last refilling that a new low must lie below it: intervals repeat themselves.
    new_low_of_refill: float = 0.2
    #: Seconds that the lowest recent level is looked for in: longer than one 40/20 interval.
    recent_low_s: int = 90
    #: From this fall rate on a warning has priority drain.
    drain_pct_per_min: float = 8.0
    #: With less room than this down to the own low a warning has priority drain.
    drain_room_pct: float = 5.0
