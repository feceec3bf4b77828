"""Does heart rate hold steady?"""

from enum import Enum


class Steadiness(Enum):
    """What can be said of heart rate."""

    STEADY = "steady"
    MOVING = "moving"
    UNDECIDABLE = "undecidable"
