"""What limits the athlete in a bout: the muscle itself, or the supply to the whole body?

Always with the evidence, never a bare label; often it can't be decided, and then what is missing
is said.

A muscle that rests loses oxygen too when the whole body runs short (Kirby et al. 2021, J Appl
Physiol 130:1915; Shiroishi et al. 2010, Adv Exp Med Biol 662:379); where only the working one
falls the cause is there: its demand, its compression, how it is recruited. No study has tested
this reading as a rule for single athletes.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Final

from livemon.analyse.heart_rate import HeartRateBout
from livemon.analyse.muscle import MuscleBout
from livemon.analyse.numbers import number
from livemon.estimate.balance import Balance
from livemon.estimate.steadiness import Steadiness


class Limit(Enum):
    """Where the limit lies."""

    LOCAL = "local"
    WHOLE_BODY = "whole body"
    NOT_DECIDABLE = "not decidable"


@dataclass(frozen=True, slots=True)
class Limiter:
    """A finding, what speaks for it, and why no more can be said; that is empty when decided."""

    limit: Limit
    evidence: tuple[str, ...]
    missing: str


_AT_BAND_BPM: Final = 3.0  #: so close to the band's upper end counts as at it


def what_limits(
    heart_rate: HeartRateBout | None,
    working: Sequence[MuscleBout],
    idle: Sequence[MuscleBout],
    band_bpm: tuple[float, float] | None,
) -> Limiter:
    """Weigh one bout's evidence.

    Args:
        heart_rate: None when it was not recorded.
        working: sites on muscles that do the work.
        idle: sites on muscles that rest.
        band_bpm: the heart rate band that was set for this work.
    """
    evidence = (*_heart_evidence(heart_rate, band_bpm), *_muscle_evidence(working, idle))
    limit, missing = _weigh(heart_rate, working, idle, band_bpm)
    return Limiter(limit, evidence, missing)


def _weigh(
    heart_rate: HeartRateBout | None,
    working: Sequence[MuscleBout],
    idle: Sequence[MuscleBout],
    band_bpm: tuple[float, float] | None,
) -> tuple[Limit, str]:
    work_words = {m.word.balance for m in working} - {Balance.UNSURE}
    idle_words = {m.word.balance for m in idle} - {Balance.UNSURE}
    if not work_words:
        return Limit.NOT_DECIDABLE, "a clear trend at a working muscle"
    unsure = [m.site for m in working if m.word.balance is Balance.UNSURE]
    if Balance.DEMAND_AHEAD not in work_words and unsure:
        return Limit.NOT_DECIDABLE, f"a clear trend at {unsure[0]}"
    if Balance.DEMAND_AHEAD not in work_words:
        return _weigh_without_fall(heart_rate, work_words, idle_words, band_bpm)
    if heart_rate is not None and heart_rate.steadiness is Steadiness.MOVING:
        return Limit.NOT_DECIDABLE, "a heart rate that holds: it was still moving at the end"
    if not idle_words:
        return Limit.NOT_DECIDABLE, "a second oximeter with a clear trend, on a muscle that rests"
    if Balance.DEMAND_AHEAD in idle_words:
        return Limit.WHOLE_BODY, ""
    return Limit.LOCAL, ""


def _weigh_without_fall(
    heart_rate: HeartRateBout | None,
    work_words: set[Balance],
    idle_words: set[Balance],
    band_bpm: tuple[float, float] | None,
) -> tuple[Limit, str]:
    if Balance.DEMAND_AHEAD in idle_words:
        return (
            Limit.NOT_DECIDABLE,
            "only the resting muscle fell: cold, a grip, or blood sent elsewhere",
        )
    if Balance.AT_LOW in work_words:
        return Limit.NOT_DECIDABLE, "the muscle is level at its low, where it can't fall further"
    if work_words == {Balance.SUPPLY_AHEAD} and _at_band(heart_rate, band_bpm):
        return Limit.WHOLE_BODY, ""
    return Limit.NOT_DECIDABLE, "neither heart rate nor muscle reached a limit in this bout"


def _at_band(heart_rate: HeartRateBout | None, band_bpm: tuple[float, float] | None) -> bool:
    if heart_rate is None or band_bpm is None or heart_rate.late_mean.value is None:
        return False
    return heart_rate.late_mean.value >= band_bpm[1] - _AT_BAND_BPM


def _heart_evidence(
    heart_rate: HeartRateBout | None, band_bpm: tuple[float, float] | None
) -> tuple[str, ...]:
    if heart_rate is None or heart_rate.late_mean.value is None:
        return ("heart rate is not known",)
    said = f"heart rate {heart_rate.late_mean.value:.0f} bpm, {heart_rate.steadiness.value}"
    if band_bpm is None:
        return (said,)
    low, high = band_bpm
    if _at_band(heart_rate, band_bpm):
        place = "at or above the upper end of"
    elif heart_rate.late_mean.value < low:
        place = "below"
    else:
        place = "in"
    return (f"{said}, {place} its band of {low:.0f} to {high:.0f} bpm",)


def _muscle_evidence(working: Sequence[MuscleBout], idle: Sequence[MuscleBout]) -> tuple[str, ...]:
    told = [("working", m) for m in working] + [("resting", m) for m in idle]
    return tuple(_sentence(role, m) for role, m in told) or ("no muscle site",)


def _sentence(role: str, muscle: MuscleBout) -> str:
    slope = muscle.late.slope
    named = muscle.site.lower().endswith(f"({role})")
    said = f"{muscle.site}{'' if named else f' ({role})'}: {muscle.word.balance.value}"
    if slope.value is None or slope.low is None or slope.high is None:
        said += f" ({muscle.word.reason})"
    else:
        value, low, high = (number(v, 1, signed=True) for v in (slope.value, slope.low, slope.high))
        said += f", {value} %/min ({low} to {high})"
    volume = muscle.blood_volume
    if volume is not None and volume.reading:
        said += f"; tHb {volume.direction.value}: {volume.reading}"
    return said
