"""When the athlete's own low would be reached at the present rate.

A band that holds the true time in nine cases of ten as long as the rate stays what it is: the room
is known to within the noise and the lag of the level, the rate to within the trend's interval.
Hidden when it would be a guess.
"""

from typing import Final

from livemon.estimate.trend import Forecast, Trend

_SECONDS_PER_MINUTE: Final = 60.0
_LEAST_ROOM_PCT: Final = 2.0  #: below it the muscle is at its low, for all that can be told
_SLOWEST_PCT_PER_MIN: Final = -0.8  #: a fall that may be slower than this may last for ever
_WIDEST: Final = 6.0  #: latest over soonest; a wider band tells nobody anything
_LEVEL_LAG_S: Final = 2.0  #: the level is a mean over five seconds
_DEVICE_LAG_S: Final = 2.5  #: a device that smooths over five seconds shows what was 2.5 s ago
_LEVEL_SD: Final = 1.3  #: of the noise: a mean of five seconds keeps most of noise that lasts
_WIDER: Final = 1.2  #: the trend's interval is a little narrow while a fall is young


def forecast(trend: Trend | None, room_pct: float | None, noise_sd: float) -> Forecast | None:
    """Return the band, or None if there is no fall, no known low, or no use in it."""
    if trend is None or room_pct is None or room_pct < _LEAST_ROOM_PCT:
        return None
    steepest = trend.pct_per_min + _WIDER * (trend.low_pct_per_min - trend.pct_per_min)
    mildest = trend.pct_per_min + _WIDER * (trend.high_pct_per_min - trend.pct_per_min)
    if mildest > _SLOWEST_PCT_PER_MIN:
        return None
    fallen = -trend.pct_per_min / _SECONDS_PER_MINUTE
    blur = _LEVEL_SD * noise_sd
    least = max(room_pct - fallen * (_LEVEL_LAG_S + _DEVICE_LAG_S) - blur, 0.0)
    most = room_pct - fallen * _LEVEL_LAG_S + blur
    soonest_s = least / -steepest * _SECONDS_PER_MINUTE
    latest_s = most / -mildest * _SECONDS_PER_MINUTE
    return None if latest_s > _WIDEST * soonest_s else Forecast(soonest_s, latest_s)
