"""What a muscle's trend says about supply and demand, in one of five words."""

from enum import Enum


class Balance(Enum):
    """The word for a trend."""

    SUPPLY_AHEAD = "supply ahead"  #: rising
    IN_BALANCE = "in balance"  #: level
    DEMAND_AHEAD = "demand ahead"  #: falling
    AT_LOW = "at low"  #: level, near the athlete's own low
    UNSURE = "unsure"  #: too little or too poor data to say
