"""Which stretch of time a figure is taken from: before, late in, and after a bout."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from livemon.analyse.bout import Bout

# The fast fall after a load change is over in 30 to 60 s, so published slopes start after the
# first 60 s of a 3-minute stage (Batterson et al. 2023, doi 10.1007/s00421-023-05238-9); tests of
# longer work look from minute 3 on. A third of the bout, within these limits, meets both.
EARLIEST_LATE_S: Final = 60.0
LATEST_LATE_S: Final = 180.0
SHORTEST_LATE_S: Final = 60.0  #: below this the slope's interval says nothing

LONGEST_BEFORE_S: Final = 60.0
SHORTEST_BEFORE_S: Final = 20.0
LONGEST_AFTER_S: Final = 180.0  #: hyperaemia peaks within two to three minutes
SHORTEST_AFTER_S: Final = 60.0

ENOUGH_COVERED: Final = 0.7  #: share of a stretch that must have samples


@dataclass(frozen=True, slots=True)
class Window:
    """From start up to, not including, end."""

    start_s: float
    end_s: float

    @property
    def duration_s(self) -> float:
        """How long it is."""
        return self.end_s - self.start_s


def late_part(bout: Bout) -> Window | None:
    """Return the part after the onset; None when the bout is too short to have one."""
    onset_s = min(max(bout.duration_s / 3, EARLIEST_LATE_S), LATEST_LATE_S)
    if bout.duration_s - onset_s < SHORTEST_LATE_S:
        return None
    return Window(bout.start_s + onset_s, bout.end_s)


def before(bout: Bout, bouts: Sequence[Bout]) -> Window | None:
    """Return the rest just before a bout; None when other work goes on until then.

    After earlier work the first half of the pause is recovery and doesn't count.
    """
    earlier = [b.end_s for b in bouts if not b.resting and b.start_s < bout.start_s]
    quiet_s = bout.start_s - max(earlier) if earlier else 2 * LONGEST_BEFORE_S
    length_s = min(LONGEST_BEFORE_S, quiet_s / 2)
    if length_s < SHORTEST_BEFORE_S:
        return None
    return Window(bout.start_s - length_s, bout.start_s)


def after(bout: Bout, bouts: Sequence[Bout]) -> Window | None:
    """Return the recovery after a bout; None when the next work follows too soon."""
    later = [b.start_s for b in bouts if not b.resting and b.start_s >= bout.end_s]
    end_s = min([bout.end_s + LONGEST_AFTER_S, *later])
    if end_s - bout.end_s < SHORTEST_AFTER_S:
        return None
    return Window(bout.end_s, end_s)
