"""The balance word for a whole bout."""

from dataclasses import dataclass
from typing import Final

from livemon.analyse.measure import Measure
from livemon.estimate.balance import Balance

# Below this a slope doesn't matter in training: half a point a minute is five in ten minutes, less
# than a new placement changes. Above the other limit an interval is too wide to call level. Both
# are a choice of this project.
SLOPE_THAT_MATTERS: Final = 0.5  # %/min
WIDEST_LEVEL: Final = 1.5  # %/min
REFILLED: Final = 0.5  # share of the drop that came back before the end
SMALLEST_DROP_PCT: Final = 3.0
NEAR_LOW_PCT: Final = 3.0


@dataclass(frozen=True, slots=True)
class Word:
    """The word, and what it rests on."""

    balance: Balance
    reason: str


def balance_word(
    slope: Measure,
    drop: Measure,
    nadir: Measure,
    end_level: Measure,
    own_low_pct: float | None,
) -> Word:
    """Word one bout.

    Args:
        slope: of the late part, %/min.
        drop: from baseline to nadir.
        nadir: the lowest level held.
        end_level: mean of the last half minute.
        own_low_pct: the athlete's low at this placement; None if unknown.
    """
    if slope.value is None or slope.low is None or slope.high is None:
        return Word(Balance.UNSURE, slope.reason)
    if slope.clearly_below_zero and slope.value <= -SLOPE_THAT_MATTERS:
        return Word(Balance.DEMAND_AHEAD, "still falling in the late part")
    if slope.clearly_above_zero and slope.value >= SLOPE_THAT_MATTERS:
        return Word(Balance.SUPPLY_AHEAD, "rising in the late part")
    if slope.low > -WIDEST_LEVEL and _refilled(drop, nadir, end_level):
        return Word(Balance.SUPPLY_AHEAD, "dipped, and came back while the work went on")
    if slope.low < -WIDEST_LEVEL or slope.high > WIDEST_LEVEL:
        return Word(Balance.UNSURE, "the trend's interval is too wide to call it level")
    low = end_level.value
    if own_low_pct is not None and low is not None and low <= own_low_pct + NEAR_LOW_PCT:
        return Word(Balance.AT_LOW, "level, near the athlete's own low")
    return Word(Balance.IN_BALANCE, "level in the late part")


def _refilled(drop: Measure, nadir: Measure, end_level: Measure) -> bool:
    """Whether at least half of a real drop came back, beyond doubt of both levels."""
    if drop.value is None or nadir.high is None or end_level.low is None:
        return False
    if end_level.value is None or nadir.value is None or not drop.clearly_above_zero:
        return False
    back = end_level.value - nadir.value
    large = drop.value >= SMALLEST_DROP_PCT and back >= REFILLED * drop.value
    return large and end_level.low > nadir.high
