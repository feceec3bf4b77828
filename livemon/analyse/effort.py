"""How hard a bout was, as a power meter, foot sensor or machine measured it."""

from typing import Final

from livemon.analyse.bins import bin_means
from livemon.analyse.bout import Bout, Intensity
from livemon.analyse.series import Series
from livemon.analyse.windows import ENOUGH_COVERED, Window, late_part

_SHORTEST_S: Final = 10.0


def measured_intensity(power_w: Series, speed_m_per_s: Series, bout: Bout) -> Intensity | None:
    """Return mean power, or else mean speed, over the late part; None when neither was measured.

    The late part is where the trend of SmO2 comes from; a short bout is taken as a whole.
    """
    window = late_part(bout) or Window(bout.start_s, bout.end_s)
    for series, unit, decimals in ((power_w, "W", 0), (speed_m_per_s, "m/s", 2)):
        if window.duration_s < _SHORTEST_S:
            return None
        if series.covered(window.start_s, window.end_s) < ENOUGH_COVERED:
            continue
        mean = float(bin_means(series, window.start_s, window.end_s).values.mean())
        if mean > 0:
            return Intensity(round(mean, decimals), unit)
    return None
