"""A plan of bouts and recoveries, and what one step of it says.

A step ends by time, by hand once the distance is done, or, for a recovery, when the muscle has
refilled to a share of its baseline or a time limit passes. plan_runner.py goes through a plan.
"""

from dataclasses import dataclass
from enum import Enum

from livemon.monitor.marks import Details


class StepKind(Enum):
    """What is done in a step."""

    WARM_UP = "warm-up"
    BOUT = "bout"
    RECOVERY = "recovery"


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a plan.

    Attributes:
        work: kind of work, in the coach's words; may be empty.
        duration_s: how long; None for a step that ends by hand or by refilling.
        distance_m: what to cover; the step ends by hand.
        band_bpm: the heart-rate band to hold; None leaves the athlete's own.
        load: the load, as a mark's details have it.
        refill_pct: SmO2 in % of baseline at which a recovery ends.
        limit_s: when a recovery by refilling ends whatever the muscle does.
    """

    kind: StepKind
    work: str = ""
    duration_s: float | None = None
    distance_m: float | None = None
    band_bpm: tuple[int, int] | None = None
    load: Details = ()
    refill_pct: float | None = None
    limit_s: float | None = None

    @property
    def ends_after_s(self) -> float | None:
        """When the step ends by the clock, if it does."""
        return self.limit_s if self.duration_s is None else self.duration_s

    def words(self) -> str:
        """Return the step as it is announced: "run, 4 min, 150 to 158 bpm"."""
        parts = [self.work or self.kind.value]
        if self.duration_s is not None:
            parts.append(duration_words(self.duration_s))
        if self.distance_m is not None:
            parts.append(f"{self.distance_m:g} m")
        if self.refill_pct is not None and self.limit_s is not None:
            limit = duration_words(self.limit_s)
            parts.append(f"until refilled to {self.refill_pct:g} % of baseline, at most {limit}")
        if self.band_bpm is not None:
            parts.append(f"{self.band_bpm[0]} to {self.band_bpm[1]} bpm")
        return ", ".join(parts)


@dataclass(frozen=True, slots=True)
class Plan:
    """Steps in their order, rounds written out."""

    name: str
    about: str
    steps: tuple[Step, ...]


def duration_words(seconds: float) -> str:
    """Return a duration as people say it: "45 s", "4 min", "4 min 30 s"."""
    minutes, rest = divmod(round(seconds), 60)
    if not minutes:
        return f"{rest} s"
    return f"{minutes} min {rest} s" if rest else f"{minutes} min"


def total_words(plan: Plan) -> str:
    """Return how many steps there are and how long they take: "12 steps, at most 36 min"."""
    known = [step.ends_after_s for step in plan.steps if step.ends_after_s is not None]
    open_end = len(known) < len(plan.steps)
    at_most = any(step.refill_pct is not None for step in plan.steps)
    before = "at most " if at_most and not open_end else ""
    after = ", and the steps that end by hand" if open_end else ""
    count = "1 step" if len(plan.steps) == 1 else f"{len(plan.steps)} steps"
    return f"{count}, {before}{duration_words(sum(known))}{after}"
