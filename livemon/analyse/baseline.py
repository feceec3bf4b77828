"""The level that a bout's fall is measured from."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from livemon.analyse.bins import BIN_S, bin_means
from livemon.analyse.bout import Bout
from livemon.analyse.correlated import Noise
from livemon.analyse.measure import Measure, around, unknown
from livemon.analyse.series import Series
from livemon.analyse.windows import ENOUGH_COVERED, Window, before

JUST_BEFORE: Final = "just before the bout"
AT_REST: Final = "the resting baseline"


@dataclass(frozen=True, slots=True)
class Baseline:
    """A level before work.

    Attributes:
        source: which level this is, in words; empty when there is none.
    """

    level: Measure
    source: str
    window: Window | None


def find_baseline(
    series: Series,
    bout: Bout,
    bouts: Sequence[Bout],
    resting: Window | None,
    noise: Noise | None,
    unit: str,
) -> Baseline:
    """Take the rest just before the bout, or else the resting baseline of the session.

    The level just before is preferred: warmth and earlier work have moved it by then.
    """
    choices = ((before(bout, bouts), JUST_BEFORE), (resting, AT_REST))
    for window, source in choices:
        if window is None or series.covered(window.start_s, window.end_s) < ENOUGH_COVERED:
            continue
        if noise is None:
            return Baseline(unknown(unit, "the noise of this bout is not known"), source, window)
        return Baseline(_level(series, window, noise, unit), source, window)
    reason = "no rest before the bout and no resting baseline"
    return Baseline(unknown(unit, reason), "", None)


def _level(series: Series, window: Window, noise: Noise, unit: str) -> Measure:
    bins = bin_means(series, window.start_s, window.end_s, min(BIN_S, window.duration_s))
    mean = float(bins.values.mean())
    return around(mean, noise.error_of_mean(len(bins)), noise.degrees, unit)
