"""What the drain warning goes by: every threshold with its unit and the reason for its default."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from livemon.warn import forest


@dataclass(frozen=True, slots=True)
class WarnSettings:
    """Thresholds of the drain warning; the defaults are those whose error rates are published."""

    #: A fall must be steeper than this beyond doubt; slower ones can be the wander of a muscle at
    #: work or the slow component of heavy work, and level off by themselves.
    margin_pct_per_min: float = 1.0
    #: A fall is at least so steep; slower declines are information.
    slowest_pct_per_min: float = 1.5
    #: A younger one can't be told: by then heart rate can't have shown a change of load.
    youngest_age_s: int = 10
    #: Standard errors beyond the margin from which on it is worth weighing all that is known.
    worth_weighing_se: float = 1.2
    #: Weighs the evidence, which `livemon.warn.evidence` names, in nats for a fall.
    weigh_fall: Callable[[Sequence[float]], float] = forest.weigh_fall
    #: Nats, smoothed over two or three seconds, from which on a fall is seen.
    certain_nats: float = 2.4
    #: Seconds between the first sight of a fall and the one that is told.
    on_delay_s: int = 1
    #: Seconds that may lie between two sights of a fall that is not told yet: noise hides it.
    patience_s: int = 6

    #: Weighs what `livemon.warn.ending` names, in nats for "the told fall is over".
    weigh_end: Callable[[Sequence[float]], float] = forest.weigh_end
    #: Nats, smoothed over two or three seconds, from which on its end is seen.
    over_nats: float = 0.3
    #: Seconds without a break that its end must be seen.
    off_delay_s: int = 1

    #: A fall without known heart rate must be certain by so many standard errors,
    deep_certain_se: float = 6.0
    #: be so old,
    deep_age_s: int = 45
    #: have cost so many points,
    deep_lost_pct: float = 8.0
    #: be more like a ramp than like a single step by so many nats,
    over_step_nats: float = 0.0
    #: be more like a fall at constant load than like the onset of harder work, by its shape alone,
    over_onset_nats: float = 2.0
    #: and lie by so many points below the lowest level
    new_low_pct: float = 0.7
    #: and this part of the last refilling, since intervals repeat themselves,
    new_low_of_refill: float = 0.2
    #: of so many seconds before it: longer than one 40/20 interval.
    recent_low_s: int = 90

    #: From this fall rate on a warning has priority drain.
    drain_pct_per_min: float = 8.0
    #: With less room than this down to the own low a warning has priority drain.
    drain_room_pct: float = 5.0
