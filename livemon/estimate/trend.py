"""How fast a signal rises or falls, and how well that is known."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Trend:
    """A slope with its 90 % interval; negative is falling.

    The fall rate that people read is the same number with the sign turned.
    """

    pct_per_min: float
    low_pct_per_min: float  #: 5 % limit
    high_pct_per_min: float  #: 95 % limit


@dataclass(frozen=True, slots=True)
class Forecast:
    """When the athlete's own low would be reached at the present rate: a band, not a point."""

    soonest_s: float
    latest_s: float
