"""Two bouts beside each other, at like heart rate.

A verdict is given only where the interval of the difference leaves out zero, and between
recordings only beyond what a new placement of the probe alone can change.
"""

from dataclasses import dataclass
from typing import Final

from livemon.analyse.heart_rate import STEADY_WITHIN_BPM, HeartRateBout
from livemon.analyse.measure import Measure, difference
from livemon.analyse.muscle import MuscleBout

LIKE_WITHIN_BPM: Final = STEADY_WITHIN_BPM


@dataclass(frozen=True, slots=True)
class Quantity:
    """What is compared, and how to say it.

    Attributes:
        larger: words for a difference above zero.
        smaller: words for one below zero.
        smallest_between: minimum detectable change between recordings; None where none is
            published.
    """

    name: str
    larger: str
    smaller: str
    smallest_between: float | None


# Minimum detectable change of SmO2 on the thigh between days: 14 to 18 points (Skotzke et al.
# 2024, doi 10.1007/s00421-024-05514-2). Half-recovery time: standard error of measurement between
# sessions 7 s (Research Directs in Health Sciences 2022), times 1.96 and the root of 2.
LATE_LEVEL: Final = Quantity("late level", "higher level", "lower level", 15.0)
DROP: Final = Quantity("drop", "deeper drop", "smaller drop", 15.0)
SLOPE: Final = Quantity("slope", "falls less or rises more", "falls more or rises less", None)
HALF_TIME: Final = Quantity("half-recovery time", "slower recovery", "faster recovery", 19.4)

#: Verdicts that say a difference is there.
CLEAR: Final = frozenset(
    words for q in (LATE_LEVEL, DROP, SLOPE, HALF_TIME) for words in (q.larger, q.smaller)
)

NO_DIFFERENCE: Final = "no clear difference"


@dataclass(frozen=True, slots=True)
class Row:
    """One quantity's difference, second bout minus first."""

    site: str
    quantity: str
    difference: Measure
    verdict: str


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two bouts compared.

    Attributes:
        heart_rate: difference of their late means.
        alike: whether heart rates are alike; None when one is not known.
    """

    first: int
    second: int
    heart_rate: Measure
    alike: bool | None
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Side:
    """What a comparison needs of one bout."""

    number: int
    recording: str
    heart_rate: HeartRateBout | None
    muscles: tuple[MuscleBout, ...]


def compare(first: Side, second: Side) -> Comparison:
    """Compare every site that both bouts have."""
    heart_rate = _heart_difference(first, second)
    alike = None if heart_rate.value is None else abs(heart_rate.value) <= LIKE_WITHIN_BPM
    between = first.recording != second.recording
    others = {muscle.site: muscle for muscle in first.muscles}
    rows: list[Row] = []
    for muscle in second.muscles:
        other = others.get(muscle.site)
        if other is None:
            continue
        for quantity, a, b in _pairs(other, muscle):
            change = difference(b, a)
            words = verdict(quantity, change, alike=alike, between=between)
            rows.append(Row(muscle.site, quantity.name, change, words))
    return Comparison(first.number, second.number, heart_rate, alike, tuple(rows))


def verdict(quantity: Quantity, change: Measure, *, alike: bool | None, between: bool) -> str:
    """Say what a difference allows to be said."""
    if change.value is None:
        return change.reason
    if alike is None:
        return "no verdict: heart rate is not known in both"
    if not alike:
        return f"no verdict: heart rates differ by more than {LIKE_WITHIN_BPM:.0f} bpm"
    if not (change.clearly_above_zero or change.clearly_below_zero):
        return NO_DIFFERENCE
    if between and quantity.smallest_between is None:
        return "no verdict: how much a new placement changes this is not known"
    if between and abs(change.value) < (quantity.smallest_between or 0.0):
        return (
            f"{NO_DIFFERENCE}: less than the {quantity.smallest_between:.0f} {change.unit} "
            "that two recordings can differ by chance"
        )
    return quantity.larger if change.value > 0 else quantity.smaller


def _heart_difference(first: Side, second: Side) -> Measure:
    if first.heart_rate is None or second.heart_rate is None:
        return Measure(None, None, None, "bpm", "heart rate is not known in both")
    return difference(second.heart_rate.late_mean, first.heart_rate.late_mean)


def _pairs(a: MuscleBout, b: MuscleBout) -> tuple[tuple[Quantity, Measure, Measure], ...]:
    return (
        (DROP, a.depth.drop, b.depth.drop),
        (LATE_LEVEL, a.late.level, b.late.level),
        (SLOPE, a.late.slope, b.late.slope),
        (HALF_TIME, a.recovery.half_time, b.recovery.half_time),
    )
