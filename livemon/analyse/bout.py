"""A stretch of the session as the analysis takes it: work or rest, from when to when."""

from dataclasses import dataclass
from enum import Enum


class Origin(Enum):
    """Where a bout's intensity comes from."""

    ENTERED = "entered"
    DISTANCE = "distance over time"  #: the distance was entered
    MEASURED = "measured"  #: by a sensor or a machine


@dataclass(frozen=True, slots=True)
class Intensity:
    """How hard the work was: 250 W, 4.2 m/s, 60 kg.

    Attributes:
        spread: standard deviation within the bout, where it was measured.
    """

    value: float
    unit: str
    origin: Origin = Origin.ENTERED
    spread: float | None = None


@dataclass(frozen=True, slots=True)
class Bout:
    """One bout of work, or one recovery.

    Attributes:
        number: 1 for the first bout of the session.
        kind: what kind of work, in the words of whoever marked it; may be empty.
        resting: a recovery or a rest, not work.
        warm_up: work that is not judged, but no rest either.
        intensity: None when nobody entered one and none was measured.
        band_bpm: the heart-rate band of this bout; None when it had none of its own.
        recording: tells recordings apart; the same for all bouts of one recording.
    """

    number: int
    start_s: float
    end_s: float
    kind: str = ""
    resting: bool = False
    warm_up: bool = False
    intensity: Intensity | None = None
    band_bpm: tuple[float, float] | None = None
    rpe: float | None = None
    note: str = ""
    recording: str = ""

    @property
    def judged(self) -> bool:
        """Whether this is a bout that the analysis judges."""
        return not self.resting and not self.warm_up and self.duration_s > 0

    @property
    def duration_s(self) -> float:
        """How long it lasted."""
        return self.end_s - self.start_s
