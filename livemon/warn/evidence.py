"""All that speaks for or against a fall this second, as one row of numbers with names.

Each number answers a question of its own: how steep is the bend that fits best and how sure is it,
is it still as steep, has it bent again, is the level a new low, how loud and how lasting is the
noise, how long ago was the last trouble, and what has heart rate done meanwhile. No single one
decides; `livemon.warn.forest` weighs them together.

Left out on purpose, though they would make the figures better: how long the session has run, and
the levels of SmO2 and heart rate themselves. Invented trainings give away by them when a fall is
due.
"""

from math import sqrt
from typing import Final

from livemon.estimate.bank import KNEE_NEEDS_S, KNEES, LINES_S, SPANS, Readings
from livemon.estimate.falling import Fall, falls_after_levels
from livemon.estimate.heart import HeartSteadiness
from livemon.estimate.muscle import Muscle
from livemon.estimate.noise import LAGS_S
from livemon.estimate.pulse_shapes import HEART_NAMES
from livemon.estimate.rivals import lead_over_onset
from livemon.warn.lows import low_before

#: Stands where a question can't be answered yet: smaller than any answer.
UNKNOWN: Final = -99.0

_OVER_1_4_16_64_S: Final = tuple(LAGS_S.index(lag_s) for lag_s in (1, 4, 16, 64))
#: Ages at which a fall may have begun, for asking whether the level is a new low since.
_LOW_AGES_S: Final = (15, 30, 60)
_LOW_BEFORE_S: Final = 90  #: longer than one 40/20 interval
#: Longer ago makes no difference: windows reach back no further, and an onset has died out.
LONG_AGO_S: Final = 150
_LOOKS_ENOUGH: Final = 12  #: at the noise, over two minutes
_WORTH_ASKING: Final = (0.5, 1.0)  #: %/min and standard errors of a bend that rivals are asked for
_CHANGE_S: Final = (2, 20)  #: seconds before a fall in which a change of load would explain it

NOISE_NAMES: Final = tuple(
    f"noise: {name}" for name in ("1 s", "4 s", "16 s", "64 s", "persistence")
)
_BEND_NAMES: Final = ("certainty", "rate", "error", "age", "over onset", "load changed")

#: What each number of the row is, in its order.
NAMES: Final = (
    *(f"bend within {span_s} s: {name}" for span_s, _ in SPANS for name in _BEND_NAMES),
    *(f"line of {s} s: {name}" for s in LINES_S for name in ("rate", "certainty")),
    *(f"best: {name}" for name in ("certainty", "rate", "age", "span")),
    *(f"bent {after_s} s ago, before it {before_s} s: certainty" for after_s, before_s in KNEES),
    *NOISE_NAMES,
    "looks at the noise",
    "seconds since trouble",
    "seconds since a warning",
    "above the lowest lately",
    *(f"at {s} s: {name}" for s in _LOW_AGES_S for name in ("below the low", "refilled")),
    *HEART_NAMES,
)


def evidence(muscle: Muscle, heart: HeartSteadiness, best: Fall) -> list[float]:
    """Return the row of this second, in the order of `NAMES`; UNKNOWN where nothing is known.

    Args:
        muscle: the site's estimates; it has readings.
        heart: the athlete's heart rate; it is not undecidable.
        best: the strongest evidence of a fall by itself.
    """
    readings = muscle.readings
    assert readings is not None
    length = muscle.seconds.length
    row = _bends(readings, heart, length)
    for i, window_s in enumerate(LINES_S):
        slope = readings.lines[i]
        known = window_s <= length
        row += [-slope, -slope / readings.line_errors[i]] if known else [UNKNOWN, UNKNOWN]
    row += [best.certainty, best.rate_pct_per_min, best.age_s, best.span_s]
    for slope, error, needs_s in zip(
        readings.knees, readings.knee_errors, KNEE_NEEDS_S, strict=True
    ):
        row.append(-slope / error if needs_s <= length else UNKNOWN)
    row += noise_numbers(muscle)
    row += [
        min(muscle.noise.looks, _LOOKS_ENOUGH),
        min(muscle.calm_s, LONG_AGO_S),
        min(muscle.since_told_s, LONG_AGO_S),
    ]
    row += _lows(muscle)
    row += heart.evidence(LONG_AGO_S, UNKNOWN)
    return row


def noise_numbers(muscle: Muscle) -> list[float]:
    """Return how much readings differ over so many seconds, in the order of NOISE_NAMES."""
    variances = muscle.noise.semivariogram
    return [*(sqrt(float(variances[i])) for i in _OVER_1_4_16_64_S), muscle.persistence]


def _bends(readings: Readings, heart: HeartSteadiness, length: int) -> list[float]:
    row: list[float] = []
    for fall in falls_after_levels(readings, length, 0.0):
        row += [fall.certainty, fall.rate_pct_per_min, fall.error_pct_per_min, fall.age_s]
        if fall.rate_pct_per_min > _WORTH_ASKING[0] and fall.certainty > _WORTH_ASKING[1]:
            first_s, last_s = (fall.age_s + s for s in _CHANGE_S)
            row += [lead_over_onset(readings, fall), heart.change_log_odds(first_s, last_s)]
        else:
            row += [UNKNOWN, UNKNOWN]
    return row + [UNKNOWN] * (len(SPANS) * len(_BEND_NAMES) - len(row))


def _lows(muscle: Muscle) -> list[float]:
    """Return how far the level is above the lowest lately, and below the low before each age."""
    level = muscle.level_pct()
    assert level is not None  # there is a best fall, and with it history
    row = [level - muscle.lowest_lately_pct]
    for age_s in _LOW_AGES_S:
        before = low_before(muscle.seconds, age_s, _LOW_BEFORE_S)
        row += [UNKNOWN, UNKNOWN] if before is None else [before.pct - level, before.refilled_pct]
    return row
