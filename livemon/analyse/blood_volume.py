"""What total haemoglobin did beside SmO2: the direction of local blood volume, and its reading.

tHb is arbitrary in most devices and moves by a few per cent in hard work, so only its change
within the session is read, in per cent of its own level before the bout.
"""

from dataclasses import dataclass
from enum import Enum
from typing import Final

from livemon.analyse.measure import Measure, difference, unknown

# In hard cycling intervals tHb stayed within 1 to 2 % of its level before (J Sports Sci Med 2024,
# 23:46, table 3): less than 1 % is no change.
SMALLEST_CHANGE_PCT: Final = 1.0


class Direction(Enum):
    """Where local blood volume went."""

    UP = "up"
    DOWN = "down"
    SAME = "same"
    UNSURE = "unsure"


#: (tHb, SmO2) to the usual reading. Common practice; see the patterns of arterial and venous
#: occlusion in Barstow 2019, J Appl Physiol 126:1360.
READINGS: Final = {
    (Direction.DOWN, Direction.DOWN): "compression: less blood comes in",
    (
        Direction.SAME,
        Direction.DOWN,
    ): "more oxygen is taken out of the blood; blood volume unchanged",
    (Direction.UP, Direction.DOWN): "outflow held back: blood pools while oxygen is used",
    (Direction.DOWN, Direction.SAME): "less blood in the muscle, supply and use still equal",
    (Direction.SAME, Direction.SAME): "no change in blood volume or balance",
    (Direction.UP, Direction.SAME): "more blood, same balance: warmth or fuller vessels",
    (Direction.DOWN, Direction.UP): "less blood, better filled: the muscle works less",
    (Direction.SAME, Direction.UP): "supply ahead with unchanged blood volume",
    (Direction.UP, Direction.UP): "inflow: more blood comes than is used",
}


@dataclass(frozen=True, slots=True)
class BloodVolume:
    """Change of tHb from before the bout to its late part.

    Attributes:
        change: in % of the level before.
        reading: what direction and SmO2 together usually mean; empty when unsure.
    """

    change: Measure
    direction: Direction
    reading: str


def judge_blood_volume(before: Measure, late: Measure, smo2_change: Measure) -> BloodVolume:
    """Read the change of tHb; `smo2_change` is late level minus baseline, in points."""
    change = _per_cent(difference(late, before), before)
    direction = _direction(change, SMALLEST_CHANGE_PCT)
    muscle = _direction(smo2_change, SMALLEST_SMO2_CHANGE_PCT)
    return BloodVolume(change, direction, READINGS.get((direction, muscle), ""))


SMALLEST_SMO2_CHANGE_PCT: Final = 3.0  #: points; a choice of this project


def _per_cent(change: Measure, of: Measure) -> Measure:
    if change.value is None or change.low is None or change.high is None or of.value is None:
        return unknown("%", change.reason)
    if of.value <= 0:
        return unknown("%", "tHb is not positive before the bout")
    scale = 100 / of.value
    return Measure(change.value * scale, change.low * scale, change.high * scale, "%")


def _direction(change: Measure, smallest: float) -> Direction:
    """Return the direction where the interval decides it."""
    if change.value is None or change.low is None or change.high is None:
        return Direction.UNSURE
    if change.clearly_above_zero and change.value >= smallest:
        return Direction.UP
    if change.clearly_below_zero and change.value <= -smallest:
        return Direction.DOWN
    if abs(change.value) < smallest:
        return Direction.SAME
    return Direction.UNSURE
