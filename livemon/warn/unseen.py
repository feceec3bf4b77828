"""A fall while heart rate is unknown: told only when it is deep, certain, and like nothing else.

Without heart rate the onset of harder work can't be told from a fall but by its shape. So every
question has to be answered for a fall, one by one; the forest, which weighs them against what
heart rate does, is not asked. What is told then has the lower priority and says that heart rate is
unknown.
"""

from typing import Final

from livemon.estimate.bank import KNEE_NEEDS_S, KNEES, LINES_S
from livemon.estimate.falling import Fall
from livemon.estimate.muscle import Muscle
from livemon.estimate.rivals import lead_over_onset, lead_over_step
from livemon.warn.lows import low_before
from livemon.warn.settings import WarnSettings

_NOW: Final = LINES_S.index(12)
_STILL: Final = LINES_S.index(20)
_NOW_PART: Final = 0.3  #: of the fall's rate that the last 12 s show, give or take their error
_STILL_PART: Final = 0.5  #: the same of the last 20 s
_BENT_SE: Final = 1.4  #: standard errors by which a bend speaks against telling a fall


def told_without_heart_rate(
    muscle: Muscle, fall: Fall, settings: WarnSettings, *, eased: bool
) -> bool:
    """Say whether `fall` is to be told though heart rate is unknown; `eased` when last known."""
    return (
        _deep(fall, settings)
        and muscle.calm_s >= fall.age_s
        and _goes_on(muscle, fall)
        and _like_nothing_else(muscle, fall, settings)
        and _new_low(muscle, fall, settings, eased=eased)
    )


def _deep(fall: Fall, settings: WarnSettings) -> bool:
    return (
        fall.certainty >= settings.deep_certain_se
        and fall.age_s >= settings.deep_age_s
        and fall.rate_pct_per_min * fall.age_s / 60.0 >= settings.deep_lost_pct
    )


def _like_nothing_else(muscle: Muscle, fall: Fall, settings: WarnSettings) -> bool:
    """Is it neither the onset of harder work nor a step?"""
    readings = muscle.readings
    assert readings is not None
    if lead_over_onset(readings, fall) < settings.over_onset_nats:
        return False
    over_step = lead_over_step(
        muscle.seconds.window(), muscle.noise.semivariogram, fall.span_s, muscle.persistence
    )
    return over_step >= settings.over_step_nats


def _goes_on(muscle: Muscle, fall: Fall) -> bool:
    """Do the last seconds still fall, and does no knee say that it went on once but no more?"""
    readings = muscle.readings
    assert readings is not None
    rate = fall.rate_pct_per_min
    if -readings.lines[_NOW] < _NOW_PART * rate - readings.line_errors[_NOW]:
        return False
    if -readings.lines[_STILL] < _STILL_PART * rate:
        return False
    for i, slope in enumerate(readings.knees):
        fits = KNEE_NEEDS_S[i] <= muscle.seconds.length and KNEES[i][0] <= fall.age_s // 2
        if fits and slope > -0.5 * rate and slope + rate > _BENT_SE * readings.knee_errors[i]:
            return False
    return True


def _new_low(muscle: Muscle, fall: Fall, settings: WarnSettings, *, eased: bool) -> bool:
    """Has the level gone below what it was at any time shortly before the fall?"""
    level = muscle.level_pct()
    assert level is not None  # the fall is older than what a level needs
    if eased and level > muscle.lowest_lately_pct - settings.new_low_pct:
        return False
    before = low_before(muscle.seconds, fall.age_s, settings.recent_low_s)
    if before is None:
        return True
    needed = settings.new_low_pct + settings.new_low_of_refill * before.refilled_pct
    return level < before.pct - needed
