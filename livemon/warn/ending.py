"""All that speaks for or against the end of the told fall this second, as a row of named numbers.

A fall that only eases is still one, and noise eases every fall for some seconds. So each window
and each knee is asked how much milder it is than the rate that was told, and how surely;
`livemon.warn.forest` weighs the answers together with how loud the noise is and what heart rate
does.
"""

from typing import Final

from livemon.estimate.bank import KNEE_NEEDS_S, KNEES, LINES_S, SPANS, Readings
from livemon.estimate.falling import Fall, falls_after_levels
from livemon.estimate.heart import HeartSteadiness
from livemon.estimate.muscle import Muscle
from livemon.estimate.pulse_shapes import HEART_NAMES
from livemon.estimate.steadiness import Steadiness
from livemon.warn.evidence import LONG_AGO_S, NOISE_NAMES, UNKNOWN, noise_numbers

_BEFORE_SLACK_S: Final = 12  #: level before a fall that a knee may take for part of it
_LONGEST_AGE_S: Final = 180  #: older makes no difference
_NOW: Final = (LINES_S.index(10), LINES_S.index(20))
_AS_STEEP: Final = 0.8  #: part of the told rate from which on nobody needs to ask

_PER_LINE: Final = ("part of the told rate", "milder")
_PER_BEND: Final = ("certainty", "part of the told rate", "age")

#: What each number of the row is, in its order.
NAMES: Final = (
    "told: rate",
    "told: age",
    *(f"line of {s} s: {name}" for s in LINES_S for name in _PER_LINE),
    *(
        f"since {after} s, after {before} s: {name}"
        for after, before in KNEES
        for name in _PER_LINE
    ),
    *(f"bend within {span_s} s: {name}" for span_s, _ in SPANS for name in _PER_BEND),
    *NOISE_NAMES,
    "seconds since trouble",
    *HEART_NAMES,
)


def worth_asking(readings: Readings, told: Fall, length: int) -> bool:
    """Say whether the last seconds are milder at all than the fall that was told."""
    steep = _AS_STEEP * told.rate_pct_per_min
    return any(LINES_S[i] <= length and -readings.lines[i] < steep for i in _NOW)


def ending(muscle: Muscle, heart: HeartSteadiness, told: Fall, told_age_s: int) -> list[float]:
    """Return the row of this second, in the order of `NAMES`; UNKNOWN where nothing is known.

    Args:
        muscle: the site's estimates; it has readings.
        heart: the athlete's heart rate.
        told: the fall that the warning is about, with its rate as it goes on.
        told_age_s: seconds since it began.
    """
    readings = muscle.readings
    assert readings is not None
    length, rate = muscle.seconds.length, told.rate_pct_per_min
    row = [rate, float(min(told_age_s, _LONGEST_AGE_S))]
    for i, window_s in enumerate(LINES_S):
        if window_s > min(length, told_age_s):
            row += [UNKNOWN, UNKNOWN]
        else:
            slope = readings.lines[i]
            row += [-slope / rate, (slope + rate) / readings.line_errors[i]]
    for i, (_, before_s) in enumerate(KNEES):
        if KNEE_NEEDS_S[i] > length or before_s > told_age_s + _BEFORE_SLACK_S:
            row += [UNKNOWN, UNKNOWN]
        else:
            slope = readings.knees[i]
            row += [-slope / rate, (slope + rate) / readings.knee_errors[i]]
    row += _bends(readings, length, rate)
    row += noise_numbers(muscle)
    row.append(min(muscle.calm_s, LONG_AGO_S))
    if heart.state is Steadiness.UNDECIDABLE:
        row += [UNKNOWN] * len(HEART_NAMES)
    else:
        row += heart.evidence(LONG_AGO_S, UNKNOWN)
    return row


def _bends(readings: Readings, length: int, rate: float) -> list[float]:
    row: list[float] = []
    for fall in falls_after_levels(readings, length, 0.0):
        row += [fall.certainty, fall.rate_pct_per_min / rate, fall.age_s]
    return row + [UNKNOWN] * (len(SPANS) * len(_PER_BEND) - len(row))
