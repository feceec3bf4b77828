"""How a person dealt with an athlete's warnings: told to whoever writes it down."""

from dataclasses import dataclass
from enum import Enum


class Handled(Enum):
    """What was done."""

    SEEN = "seen"
    ASIDE = "set aside"
    OUT = "out of service"
    BACK = "put back"
    MUTED = "muted"
    HEARD = "heard again"


@dataclass(frozen=True, slots=True)
class Handling:
    """One press of a key; `for_s` says for how long, where it is for a time."""

    athlete: str
    how: Handled
    for_s: float | None = None
