"""From estimates to what is seen this second: the evidence for and against a fall.

Everything a fall has to show before it is believed stands in `judge`, in the order of cost; how
long it has to show it is the table's business.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from livemon.estimate.bank import KNEE_NEEDS_S, KNEES, LINES_S
from livemon.estimate.falling import Fall, best_fall, falls_after_levels, straight_falls
from livemon.estimate.heart import HeartSteadiness
from livemon.estimate.muscle import Muscle
from livemon.estimate.rivals import lead_over_onset, lead_over_step
from livemon.estimate.steadiness import Steadiness
from livemon.series.bins import HISTORY_S
from livemon.warn.machine import Seen
from livemon.warn.settings import WarnSettings

_SMOOTH_S: Final = 5
_NEW_NOISE: Final = 3.0  #: looks at the noise, ten seconds apart, that count as few
_BELIEVED_S: Final = 10  #: seconds of steady heart rate before it counts as just become steady
_FEWEST_LOOKS: Final = (
    3  #: at the noise, over a minute: before that its lasting part can't be known
)
#: Doubts about a long span that a shorter one may not share.
_HIDDEN: Final = frozenset({"goes on", "onset", "trouble"})
_NOT_FROM_LEVEL: Final = frozenset({"goes on", "onset"})
_BEFORE_SLACK_S: Final = 12  #: level before a fall that a knee may take for part of it
_NOW: Final = LINES_S.index(12)
_KNEE_FROM_S: Final = 29  #: a younger fall can't have bent and be told from one that has not
_BENT_SE: Final = 1.8  #: standard errors by which a bend speaks against telling a fall
_OLD_BENT_SE: Final = 1.4  #: the same for an old one, which has had time enough to end
_OLD_S: Final = 50  #: an older fall has data enough to show that it goes on


@dataclass(frozen=True, slots=True)
class Verdict:
    """What is seen, with its evidence."""

    seen: Seen
    fall: Fall | None
    reason: str  #: for people: why a warning would end
    heart_known: bool = True


def judge(
    muscle: Muscle,
    heart: HeartSteadiness,
    settings: WarnSettings,
    told: Fall | None,
    told_age_s: int,
) -> Verdict:
    """Judge this second.

    Args:
        muscle: the site's estimates.
        heart: the athlete's heart rate.
        settings: thresholds.
        told: the fall that a warning on display is about, if any.
        told_age_s: its age now.
    """
    readings = muscle.readings
    if readings is None:
        return Verdict(Seen.UNKNOWN, None, "no data")
    if told is not None:
        return _judge_told(muscle, heart, settings, told, told_age_s)
    if heart.state is Steadiness.MOVING:
        return Verdict(Seen.ENDED, None, "heart rate moving")
    length = muscle.seconds.length
    fall = best_fall(readings, length, settings.margin_pct_per_min)
    if fall is None or muscle.noise.looks < _FEWEST_LOOKS:
        return Verdict(Seen.UNKNOWN, None, "no data")
    known = heart.state is Steadiness.STEADY
    doubt = _doubt(muscle, heart, settings, fall, known=known)
    if doubt in _HIDDEN and known:
        for other in falls_after_levels(readings, length, settings.margin_pct_per_min):
            if other.span_s < fall.span_s and not _doubt(
                muscle, heart, settings, other, known=True
            ):
                return Verdict(Seen.FALLING, other, "")
    just_steady = known and _BELIEVED_S <= heart.steady_for_s <= settings.just_steady_s
    if doubt in _NOT_FROM_LEVEL and just_steady:
        for straight in straight_falls(readings, length, settings.margin_pct_per_min):
            certain = straight.certainty >= settings.straight_certain_se
            if certain and not _doubt(muscle, heart, settings, straight, known=known):
                return Verdict(Seen.FALLING, straight, "")
    if doubt:
        return Verdict(Seen.HELD, fall, doubt)
    return Verdict(Seen.FALLING, fall, "", heart_known=known)


def _doubt(
    muscle: Muscle, heart: HeartSteadiness, settings: WarnSettings, fall: Fall, *, known: bool
) -> str:
    """Return what speaks against telling this fall; empty if nothing does."""
    readings = muscle.readings
    assert readings is not None
    # A spread that was measured over a short while may be too small by chance.
    needed = settings.certain_se * (1.0 + _NEW_NOISE / (_NEW_NOISE + muscle.noise.looks))
    if muscle.since_told_s < settings.again_s:
        needed += settings.again_se
    if fall.certainty < needed or fall.age_s < settings.youngest_age_s:
        return "uncertain"
    if muscle.calm_s < fall.age_s and not _falls_since_trouble(muscle, settings):
        return "trouble"
    if not known and not _deep(fall, settings):
        return "heart rate unknown"
    if not _goes_on(muscle, fall):
        return "goes on"
    over_onset = lead_over_onset(readings, fall)
    from_level = known and fall.span_s > fall.age_s
    if fall.age_s >= _OLD_S and over_onset < 0.0:
        return "onset"  # a steady heart can't make up for a fall that has flattened
    if from_level:
        over_onset -= heart.change_log_odds(fall.age_s + 2, fall.age_s + 20)
    if over_onset < _onset_nats(settings, fall, known=known):
        return "onset"
    over_step = lead_over_step(
        muscle.seconds.window(), muscle.noise.semivariogram, fall.span_s, muscle.persistence
    )
    if over_step < settings.over_step_nats:
        return "step"
    if not _new_low(muscle, fall, settings, eased=heart.eased):
        return "new low"
    return ""


def _onset_nats(settings: WarnSettings, fall: Fall, *, known: bool) -> float:
    if not known:
        return settings.shape_only_nats
    if fall.span_s > fall.age_s:
        return settings.over_onset_nats
    return settings.straight_nats if fall.age_s < LINES_S[-1] else settings.long_straight_nats


def _deep(fall: Fall, settings: WarnSettings) -> bool:
    return (
        fall.certainty >= settings.deep_certain_se
        and fall.age_s >= settings.deep_age_s
        and fall.rate_pct_per_min * fall.age_s / 60.0 >= settings.deep_lost_pct
    )


def _falls_since_trouble(muscle: Muscle, settings: WarnSettings) -> bool:
    """Does what came after the last jump or gap show a fall by itself?"""
    readings = muscle.readings
    assert readings is not None
    known = [i for i, window_s in enumerate(LINES_S) if window_s <= muscle.calm_s]
    if not known:
        return False
    slope, error = readings.lines[known[-1]], readings.line_errors[known[-1]]
    return -slope - settings.margin_pct_per_min > settings.trouble_se * error


def _goes_on(muscle: Muscle, fall: Fall) -> bool:
    """Is the newest part of the fall still falling, at half its rate or more?"""
    readings = muscle.readings
    assert readings is not None
    newest_s = min(max(fall.age_s // 2, 8), 26)
    at = 0
    while LINES_S[at + 1] <= newest_s:
        at += 1
    now, blur = readings.lines[_NOW], readings.line_errors[_NOW]
    if -now < 0.3 * fall.rate_pct_per_min - blur:
        return False
    if fall.age_s >= _KNEE_FROM_S and _has_bent(muscle, fall):
        return False
    slack = 0.7 if fall.age_s < _OLD_S else 0.0
    return -readings.lines[at] > 0.5 * fall.rate_pct_per_min - slack * readings.line_errors[at]


def _has_bent(muscle: Muscle, fall: Fall) -> bool:
    """Does a knee say that it went on once, but does so no more?"""
    readings = muscle.readings
    assert readings is not None
    rate = fall.rate_pct_per_min
    bent_se = _BENT_SE if fall.age_s < _OLD_S else _OLD_BENT_SE
    for i, slope in enumerate(readings.knees):
        fits = KNEE_NEEDS_S[i] <= muscle.seconds.length and KNEES[i][0] <= fall.age_s // 2
        if fits and slope > -0.5 * rate and slope + rate > bent_se * readings.knee_errors[i]:
            return True
    return False


def _new_low(muscle: Muscle, fall: Fall, settings: WarnSettings, *, eased: bool) -> bool:
    """Has the level gone below what it was at any time shortly before the fall?"""
    length = muscle.seconds.length
    window = muscle.seconds.window()
    level = muscle.level_pct()
    assert level is not None
    if eased and level > muscle.lowest_lately_pct - settings.new_low_pct:
        return False
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
    muscle: Muscle,
    heart: HeartSteadiness,
    settings: WarnSettings,
    told: Fall,
    told_age_s: int,
) -> Verdict:
    readings = muscle.readings
    assert readings is not None
    if heart.certainly_moving:
        return Verdict(Seen.ENDED, None, "heart rate moving")
    rate = told.rate_pct_per_min
    milder = min(settings.over_part * rate, settings.over_at_most)
    for i, slope in enumerate(readings.knees):
        if KNEE_NEEDS_S[i] > muscle.seconds.length or KNEES[i][1] > told_age_s + _BEFORE_SLACK_S:
            continue
        error = readings.knee_errors[i]
        if slope - settings.rising_pct_per_min > settings.rising_se * error:
            return Verdict(Seen.LEVEL, None, "rising")
        if slope > -milder and slope + rate > settings.over_se * error:
            return Verdict(Seen.LEVEL, None, "level")
    return Verdict(Seen.FALLING, None, "")
