"""How urgent a warning is."""

from enum import Enum


class Priority(Enum):
    """The three priorities, least urgent first."""

    INFORMATION = "information"  #: a certain but slow trend; shown, never announced
    CAUTION = "caution"  #: falling while heart rate holds steady, with room enough
    DRAIN = "drain"  #: falling fast, or little room left
