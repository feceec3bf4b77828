"""From estimates to what is seen this second: the evidence for and against a fall.

Everything a fall has to show before it is believed stands in `judge`, in the order of cost; how
long it has to show it is the table's business.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from livemon.estimate.bank import LINES_S, MUSCLE
from livemon.estimate.falling import Fall, best_fall, ramp_lead
from livemon.estimate.heart import HeartSteadiness
from livemon.estimate.muscle import Muscle
from livemon.estimate.steadiness import Steadiness
from livemon.series.bins import HISTORY_S
from livemon.warn.machine import Seen
from livemon.warn.settings import WarnSettings

_SMOOTH_S: Final = 5


@dataclass(frozen=True, slots=True)
class Verdict:
    """What is seen, with its evidence."""

    seen: Seen
    fall: Fall | None
    reason: str  #: for people: why a warning would end
    heart_known: bool = True


def judge(
    muscle: Muscle, heart: HeartSteadiness, settings: WarnSettings, told: Fall | None
) -> Verdict:
    """Judge this second; `told` is the fall that a warning on display is about, if any."""
    readings = muscle.readings
    if readings is None or muscle.seconds.empty_s > 3:
        return Verdict(Seen.UNKNOWN, None, "no data")
    if told is not None:
        return _judge_told(muscle, heart, settings, told)
    if heart.state is Steadiness.MOVING:
        return Verdict(Seen.ENDED, None, "heart rate moving")
    length = muscle.seconds.length
    fall = best_fall(readings, MUSCLE.support_s, length, settings.margin_pct_per_min)
    if fall is None:
        return Verdict(Seen.UNKNOWN, None, "no data")
    if fall.certainty < settings.certain_se or fall.age_s < settings.youngest_age_s:
        return Verdict(Seen.HELD, fall, "level")
    known = heart.state is Steadiness.STEADY
    if not known and not _deep(fall, settings):
        return Verdict(Seen.HELD, fall, "heart rate unknown")
    if not _goes_on(muscle, fall):
        return Verdict(Seen.HELD, fall, "level")
    window = muscle.seconds.window()
    if ramp_lead(window, length, fall.age_s) < 0.0:
        return Verdict(Seen.HELD, fall, "level")
    if not _new_low(muscle, fall, settings):
        return Verdict(Seen.HELD, fall, "level")
    return Verdict(Seen.FALLING, fall, "", heart_known=known)


def _deep(fall: Fall, settings: WarnSettings) -> bool:
    return (
        fall.certainty >= settings.deep_certain_se
        and fall.age_s >= settings.deep_age_s
        and fall.rate_pct_per_min * fall.age_s / 60.0 >= settings.deep_lost_pct
    )


def _goes_on(muscle: Muscle, fall: Fall) -> bool:
    """Is the newest half of the fall still falling at half its rate?"""
    readings = muscle.readings
    assert readings is not None
    half_s = max(fall.age_s // 2, 8)
    at = 0
    for i, window_s in enumerate(LINES_S):
        if window_s <= half_s:
            at = i
    return -readings.lines[at] > 0.5 * fall.rate_pct_per_min


def _new_low(muscle: Muscle, fall: Fall, settings: WarnSettings) -> bool:
    """Has the level gone below what it was at any time shortly before the fall?"""
    length = muscle.seconds.length
    window = muscle.seconds.window()
    level = muscle.level_pct()
    assert level is not None
    before_s = min(length - fall.age_s, settings.recent_low_s)
    if before_s < _SMOOTH_S + 1:
        return True
    end = HISTORY_S - fall.age_s
    sums = np.cumsum(window[end - before_s : end])
    smooth = (sums[_SMOOTH_S:] - sums[:-_SMOOTH_S]) / _SMOOTH_S
    refill = float((smooth - np.minimum.accumulate(smooth)).max())
    needed = settings.new_low_pct + settings.new_low_of_refill * refill
    return level < float(smooth.min()) - needed


def _judge_told(
    muscle: Muscle, heart: HeartSteadiness, settings: WarnSettings, told: Fall
) -> Verdict:
    readings = muscle.readings
    assert readings is not None
    if heart.state is Steadiness.MOVING:
        return Verdict(Seen.ENDED, None, "heart rate moving")
    rate = told.rate_pct_per_min
    supports = MUSCLE.support_s[len(readings.bends) :]
    for i in range(len(LINES_S)):
        if LINES_S[i] > 34 or supports[i] > muscle.seconds.length:
            break
        slope, error = readings.lines[i], readings.line_errors[i]
        if slope - 2.0 * error > 3.0:
            return Verdict(Seen.ENDED, None, "rising")
        if slope + 0.5 * rate > 1.3 * error:
            return Verdict(Seen.LEVEL, None, "level")
    return Verdict(Seen.FALLING, None, "")
