"""The drain warnings that were shown in a session, and which of them belong to a bout."""

from collections.abc import Sequence
from dataclasses import dataclass

from livemon.analyse.bout import Bout


@dataclass(frozen=True, slots=True)
class Warned:
    """One drain warning, as it was shown at the time.

    Attributes:
        t_s: when it came on.
        fall_rate_pct_per_min: its evidence, and so on to `bpm`; None where it is not known.
    """

    t_s: float
    site: str
    fall_rate_pct_per_min: float | None = None
    falling_for_s: float | None = None
    bpm: float | None = None


def warned_in(warnings: Sequence[Warned], bout: Bout) -> tuple[Warned, ...]:
    """Return the warnings that came on in the bout, first one first."""
    inside = [one for one in warnings if bout.start_s <= one.t_s < bout.end_s]
    return tuple(sorted(inside, key=lambda one: one.t_s))
