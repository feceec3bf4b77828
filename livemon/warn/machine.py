"""When the drain warning is on, as a table.

             FALLING          FALLING, on-delay over            LEVEL             off-delay over
    QUIET ──────────────▶ WATCHING ─ ─ ─ ─ ─ ─ ─▶ WARNING ────────────▶ EASING ─ ─ ─ ─ ─ ─ ─▶ QUIET
      ▲   LEVEL, or HELD      │                      ▲      FALLING, HELD  │
      └── beyond patience ────┘                      └─────────────────────┘
    ENDED and UNKNOWN lead from everywhere to QUIET and BLIND at once: work has stopped, or nothing
    can be said. BLIND goes on like QUIET as soon as something can.

Solid arrows are `NEXT`, dashed ones are taken by time alone. HELD is what lies between falling
and level: it starts nothing and ends nothing, which is the hysteresis.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from typing import Final


class State(Enum):
    """What is claimed about a site."""

    BLIND = "blind"  #: nothing: data are missing or too poor
    QUIET = "quiet"  #: no fall
    WATCHING = "watching"  #: a fall, not yet told
    WARNING = "warning"  #: a fall that has been told
    EASING = "easing"  #: told, and perhaps over


class Seen(Enum):
    """What the estimates say this second."""

    UNKNOWN = "unknown"
    LEVEL = "level"
    HELD = "held"  #: neither a certain fall nor a certain end of one
    FALLING = "falling"
    ENDED = "ended"  #: heart rate moves: no longer a drain at the same work


TOLD: Final = frozenset({State.WARNING, State.EASING})

NEXT: Final[Mapping[tuple[State, Seen], State]] = {
    (State.BLIND, Seen.UNKNOWN): State.BLIND,
    (State.BLIND, Seen.LEVEL): State.QUIET,
    (State.BLIND, Seen.HELD): State.QUIET,
    (State.BLIND, Seen.FALLING): State.WATCHING,
    (State.BLIND, Seen.ENDED): State.QUIET,
    (State.QUIET, Seen.UNKNOWN): State.BLIND,
    (State.QUIET, Seen.LEVEL): State.QUIET,
    (State.QUIET, Seen.HELD): State.QUIET,
    (State.QUIET, Seen.FALLING): State.WATCHING,
    (State.QUIET, Seen.ENDED): State.QUIET,
    (State.WATCHING, Seen.UNKNOWN): State.BLIND,
    (State.WATCHING, Seen.LEVEL): State.QUIET,
    (State.WATCHING, Seen.HELD): State.WATCHING,
    (State.WATCHING, Seen.FALLING): State.WATCHING,
    (State.WATCHING, Seen.ENDED): State.QUIET,
    (State.WARNING, Seen.UNKNOWN): State.BLIND,
    (State.WARNING, Seen.LEVEL): State.EASING,
    (State.WARNING, Seen.HELD): State.WARNING,
    (State.WARNING, Seen.FALLING): State.WARNING,
    (State.WARNING, Seen.ENDED): State.QUIET,
    (State.EASING, Seen.UNKNOWN): State.BLIND,
    (State.EASING, Seen.LEVEL): State.EASING,
    (State.EASING, Seen.HELD): State.WARNING,
    (State.EASING, Seen.FALLING): State.WARNING,
    (State.EASING, Seen.ENDED): State.QUIET,
}


@dataclass(frozen=True, slots=True)
class Watch:
    """The warning at one moment."""

    state: State
    since_s: int  #: second in which `state` was entered
    fell_s: int  #: second in which a fall was last seen


@dataclass(frozen=True, slots=True)
class Delays:
    """The times that take the dashed arrows.

    Attributes:
        on_s: from the first sight of a fall to the sight of it that is told.
        off_s: for which its end has to be seen without a break.
        patience_s: longest time between two sights of a fall that is not told yet.
    """

    on_s: int
    off_s: int
    patience_s: int


def step(watch: Watch, seen: Seen, second: int, delays: Delays) -> Watch:
    """Return the warning after `seen` in this second."""
    state = NEXT[watch.state, seen]
    fell_s = second if seen is Seen.FALLING else watch.fell_s
    waited_s = second - watch.since_s
    if state is not watch.state:
        return Watch(state, second, fell_s)
    if state is State.WATCHING and seen is Seen.FALLING and waited_s >= delays.on_s:
        return Watch(State.WARNING, second, fell_s)
    impatient = state is State.WATCHING and second - fell_s > delays.patience_s
    over = state is State.EASING and waited_s >= delays.off_s
    if impatient or over:
        return Watch(State.QUIET, second, fell_s)
    return Watch(state, watch.since_s, fell_s)
