"""What a muscle's trend says about supply and demand, in one of five words."""

from enum import Enum
from typing import Final

from livemon.estimate.trend import Trend


class Balance(Enum):
    """The word for a trend."""

    SUPPLY_AHEAD = "supply ahead"  #: rising
    IN_BALANCE = "in balance"  #: level
    DEMAND_AHEAD = "demand ahead"  #: falling
    AT_LOW = "at low"  #: level, near the athlete's own low
    UNSURE = "unsure"  #: too little or too poor data to say


#: %/min; the whole interval must lie beyond it. Slower change is drift: at constant load the skin
#: and the volume of blood under the probe alone move SmO2 by some tenths (common practice).
_CHANGES_PCT_PER_MIN: Final = 0.5
_WIDEST_PCT_PER_MIN: Final = 12.0  #: an interval that wide says nothing
_NEAR_LOW_PCT: Final = 3.0  #: points; the noise of a level and of a low together


def balance(trend: Trend | None, room_pct: float | None) -> Balance:
    """Return the word.

    Args:
        trend: None where too little is known.
        room_pct: points down to where falls are known to end; None where that is not known.
    """
    if trend is None:
        return Balance.UNSURE
    if trend.high_pct_per_min < -_CHANGES_PCT_PER_MIN:
        return Balance.DEMAND_AHEAD
    if trend.low_pct_per_min > _CHANGES_PCT_PER_MIN:
        return Balance.SUPPLY_AHEAD
    if trend.high_pct_per_min - trend.low_pct_per_min > _WIDEST_PCT_PER_MIN:
        return Balance.UNSURE
    if room_pct is not None and room_pct < _NEAR_LOW_PCT:
        return Balance.AT_LOW
    return Balance.IN_BALANCE
