"""When the athlete's own low would be reached at the present rate.

A band that holds the true time in nine cases of ten as long as the rate stays what it is: the room
is known to within the noise of the level, the rate to within the trend's interval. Hidden when
it would be a guess.
"""

from math import sqrt
from typing import Final

from livemon.estimate.trend import Forecast, Trend

_SECONDS_PER_MINUTE: Final = 60.0
_LEAST_ROOM_PCT: Final = 2.0  #: below it the muscle is at its low, for all that can be told
_SLOWEST_PCT_PER_MIN: Final = -0.8  #: a fall that may be slower than this may last for ever
_WIDEST: Final = 6.0  #: latest over soonest; a wider band tells nobody anything
_LEVEL_S: Final = 5  #: seconds that the level is a mean of
_LEVEL_SE: Final = 1.0  #: the interval of the rate carries most of the error


def forecast(trend: Trend | None, room_pct: float | None, noise_sd: float) -> Forecast | None:
    """Return the band, or None if there is no fall, no known low, or no use in it."""
    if trend is None or room_pct is None or room_pct < _LEAST_ROOM_PCT:
        return None
    if trend.high_pct_per_min > _SLOWEST_PCT_PER_MIN:
        return None
    blur = _LEVEL_SE * noise_sd / sqrt(_LEVEL_S)
    soonest_s = max(room_pct - blur, 0.0) / -trend.low_pct_per_min * _SECONDS_PER_MINUTE
    latest_s = (room_pct + blur) / -trend.high_pct_per_min * _SECONDS_PER_MINUTE
    return None if latest_s > _WIDEST * soonest_s else Forecast(soonest_s, latest_s)
