"""What one trace gave, small enough to be sent between processes."""

from dataclasses import dataclass

from livemon.score.cause import Cause
from livemon.score.conditions import Conditions
from livemon.score.event import Fall, Moment
from livemon.score.seeds import TraceKey


@dataclass(frozen=True, slots=True)
class Edge:
    """A warning came on."""

    t_s: float
    site: int
    counts_as: Moment
    working: bool
    cause: Cause | None = None  #: of a false one


@dataclass(frozen=True, slots=True)
class FallResult:
    """What became of one fall.

    Attributes:
        delay_s: from the fall's start until a warning was on; None where none was.
        oracle_s: the same for the oracle; None where it did not see the fall either.
        held_share: share of the fall, from its first warning on, during which one was on.
        edges: how often a warning came on in the fall; one that was on already counts.
        clear_s: how long a warning that was on at the fall's end stayed on; None where there was
            none, or where another fall began meanwhile.
    """

    fall: Fall
    delay_s: float | None
    oracle_s: float | None
    held_share: float | None
    edges: int
    clear_s: float | None


@dataclass(frozen=True, slots=True)
class Count:
    """So many of so many."""

    hits: int = 0
    total: int = 0

    def __add__(self, other: "Count") -> "Count":
        """Add up."""
        return Count(self.hits + other.hits, self.total + other.total)

    @property
    def share(self) -> float | None:
        """Hits by total; None for none of none."""
        return self.hits / self.total if self.total else None


@dataclass(frozen=True, slots=True)
class TraceResult:
    """What one trace gave."""

    key: TraceKey
    conditions: Conditions
    hours: float  #: of the whole trace
    quiet_work_h: float  #: at work, outside falls; mean over the sites
    quiet_rest_h: float  #: the same at rest, in pauses and in recovery
    edges: tuple[Edge, ...]
    falls: tuple[FallResult, ...]
    pace_changes: Count  #: those that drew a false warning
    interval: Count  #: the 90 % interval holds the true slope, which has not just changed
    interval_always: Count  #: the same at every moment at which a trend is shown
    forecast: Count  #: the band holds the true time
