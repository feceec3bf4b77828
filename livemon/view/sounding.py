"""When a warning is heard: as it begins to call, and again while nobody has seen it.

The pauses follow the common practice for high and medium priority (IEC 60601-1-8: 2.5 to 15 s and
2.5 to 30 s), at their long ends: this is a gym, not a ward.
"""

from dataclasses import dataclass
from typing import Final

from livemon.view.conduct import Conduct, Signal, Stage
from livemon.view.words import URGENCY
from livemon.warn.priority import Priority

_AGAIN_S: Final = {Priority.DRAIN: 15.0, Priority.CAUTION: 30.0}


@dataclass(frozen=True, slots=True)
class Sounding:
    """What was heard last, and when, on the viewer's own clock."""

    heard: Priority | None = None
    at_s: float = 0.0

    def next(
        self, conduct: Conduct, now_s: float, muted: frozenset[str] = frozenset()
    ) -> tuple["Sounding", Priority | None]:
        """Return the new state, and what should be heard now of those who are not muted."""
        signals = calling(conduct, muted)
        if not signals:
            return Sounding(None, self.at_s), None
        priority = signals[0].priority
        worse = self.heard is None or URGENCY[priority] > URGENCY[self.heard]
        if worse or now_s - self.at_s >= _AGAIN_S[priority]:
            return Sounding(priority, now_s), priority
        return self, None


def calling(conduct: Conduct, muted: frozenset[str]) -> tuple[Signal, ...]:
    """Return the signals that call in lanes that are not muted, the most urgent first."""
    found = (
        signal
        for signal in conduct.signals
        if signal.stage is Stage.CALLING
        and signal.athlete not in muted
        and conduct.calls(signal.athlete)
    )
    return tuple(sorted(found, key=lambda signal: (-URGENCY[signal.priority], signal.on_s)))
