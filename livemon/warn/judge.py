"""From estimates to what is seen this second: the evidence for and against a fall.

A fall that is worth weighing is weighed by the forest; its nats are smoothed over the last seconds,
so that one lucky second does not tell a fall. How long it has to show is the table's business.
"""

from dataclasses import dataclass
from typing import Final

from livemon.estimate.bank import LINES_S
from livemon.estimate.falling import Fall, best_fall
from livemon.estimate.heart import HeartSteadiness
from livemon.estimate.muscle import Muscle
from livemon.estimate.steadiness import Steadiness
from livemon.warn.ending import ending, worth_asking
from livemon.warn.evidence import evidence
from livemon.warn.machine import Seen
from livemon.warn.settings import WarnSettings
from livemon.warn.unseen import told_without_heart_rate

#: Looks at the noise, over a minute: before that its lasting part can't be known.
_FEWEST_LOOKS: Final = 3
_NOW: Final = LINES_S.index(12)  #: says how a fall ended
_RISING_PCT_PER_MIN: Final = 3.0  #: steeper upwards, work has stopped or eased
_FLOOR_NATS: Final = -3.0  #: less is as good as nothing, and must not outlast what comes after it
_NEWEST_PART: Final = 0.7  #: of the weight; the rest is on the seconds before


class Conviction:
    """The weight of the evidence in nats, smoothed over the last two or three seconds."""

    __slots__ = ("nats",)

    def __init__(self) -> None:
        self.nats = _FLOOR_NATS

    def take(self, nats: float) -> float:
        """Take this second's weight; return the smoothed one."""
        self.nats += _NEWEST_PART * (max(nats, _FLOOR_NATS) - self.nats)
        return self.nats

    def forget(self) -> None:
        """Begin afresh."""
        self.nats = _FLOOR_NATS


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
    conviction: Conviction,
) -> Verdict:
    """Judge this second.

    Args:
        muscle: the site's estimates.
        heart: the athlete's heart rate.
        settings: thresholds.
        told: the fall that a warning on display is about, if any.
        told_age_s: its age now.
        conviction: what the seconds before have left; it is brought up to date.
    """
    readings = muscle.readings
    if readings is None:
        return Verdict(Seen.UNKNOWN, None, "no data")
    if told is not None:
        return _judge_told(muscle, heart, settings, told, told_age_s, conviction)
    if heart.state is Steadiness.MOVING:
        conviction.forget()
        return Verdict(Seen.ENDED, None, "heart rate moving")
    fall = best_fall(readings, muscle.seconds.length, settings.margin_pct_per_min)
    if fall is None or muscle.noise.looks < _FEWEST_LOOKS:
        return Verdict(Seen.UNKNOWN, None, "no data")
    if heart.state is Steadiness.UNDECIDABLE:
        conviction.forget()
        deep = told_without_heart_rate(muscle, fall, settings, eased=heart.eased)
        seen = Seen.FALLING if deep else Seen.HELD
        return Verdict(seen, fall, "heart rate unknown", heart_known=False)
    nats = _FLOOR_NATS
    if _worth_weighing(fall, settings):
        nats = settings.weigh_fall(evidence(muscle, heart, fall))
    falls = conviction.take(nats) >= settings.certain_nats
    return Verdict(Seen.FALLING if falls else Seen.HELD, fall, "")


def _worth_weighing(fall: Fall, settings: WarnSettings) -> bool:
    return (
        fall.certainty > settings.worth_weighing_se
        and fall.rate_pct_per_min >= settings.slowest_pct_per_min
        and fall.age_s >= settings.youngest_age_s
    )


def _judge_told(
    muscle: Muscle,
    heart: HeartSteadiness,
    settings: WarnSettings,
    told: Fall,
    told_age_s: int,
    conviction: Conviction,
) -> Verdict:
    readings = muscle.readings
    assert readings is not None
    if heart.certainly_moving:
        return Verdict(Seen.ENDED, None, "heart rate moving")
    nats = _FLOOR_NATS
    if worth_asking(readings, told, muscle.seconds.length):
        nats = settings.weigh_end(ending(muscle, heart, told, told_age_s))
    if conviction.take(nats) < settings.over_nats:
        return Verdict(Seen.FALLING, None, "")
    rising = readings.lines[_NOW] > _RISING_PCT_PER_MIN
    return Verdict(Seen.LEVEL, None, "rising" if rising else "level")
