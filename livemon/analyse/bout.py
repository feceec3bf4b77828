"""A stretch of the session as the analysis takes it: work or rest, from when to when."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Intensity:
    """How hard the work was, in whatever the coach enters: 250 W, 4.2 m/s, 60 kg."""

    value: float
    unit: str


@dataclass(frozen=True, slots=True)
class Bout:
    """One bout of work, or one recovery.

    Attributes:
        number: 1 for the first bout of the session.
        kind: what kind of work, in the words of whoever marked it; may be empty.
        resting: a recovery or a rest, not work.
        warm_up: work that is not judged, but no rest either.
        intensity: None when nobody entered one.
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
