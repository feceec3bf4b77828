"""The trend now: the longest straight line that the data bear out.

A short window is noisy, a long one is late. The intersection-of-confidence-intervals rule
(Katkovnik 1999, IEEE Trans. Signal Processing 47:2567; Goldenshluger & Nemirovski 1997) lengthens
the window as long as its interval still overlaps with all shorter windows' intervals, and stops
where a bend would begin to bias the slope.
"""

from typing import Final

from livemon.estimate.trend import Trend

#: Half-width of the intervals that must overlap, in standard errors.
_OVERLAP_SE: Final = 1.3

#: Half-width of the 90 % interval, in standard errors of the chosen window. More than the normal
#: distribution's 1.645, since the choice of the window adds an error of its own.
_HALF_WIDTH_SE: Final = 1.9

#: %/min that are always added: wander of the muscle itself that no noise estimate shows.
_LEAST_HALF_WIDTH: Final = 0.5


def trend(slopes: list[float], errors: list[float]) -> Trend | None:
    """Return the trend from slopes of ever longer windows, or None without any."""
    if not slopes:
        return None
    low, high = -1e9, 1e9
    slope, error = slopes[0], errors[0]
    for candidate, its_error in zip(slopes, errors, strict=True):
        reach = _OVERLAP_SE * its_error
        low = max(low, candidate - reach)
        high = min(high, candidate + reach)
        if low > high:
            break
        slope, error = candidate, its_error
    half = _HALF_WIDTH_SE * error + _LEAST_HALF_WIDTH
    return Trend(slope, slope - half, slope + half)
