"""When a warning is heard: as it begins to call, and again while nobody has seen it.

The pauses follow the common practice for high and medium priority (IEC 60601-1-8: 2.5 to 15 s and
2.5 to 30 s), at their long ends: this is a gym, not a ward.
"""

from dataclasses import dataclass
from typing import Final

from livemon.view.conduct import Conduct, Stage
from livemon.view.words import URGENCY
from livemon.warn.priority import Priority

_AGAIN_S: Final = {Priority.DRAIN: 15.0, Priority.CAUTION: 30.0}


@dataclass(frozen=True, slots=True)
class Sounding:
    """What was heard last, and when, on the viewer's own clock."""

    heard: Priority | None = None
    at_s: float = 0.0

    def next(self, conduct: Conduct, now_s: float) -> tuple["Sounding", Priority | None]:
        """Return the new state, and what should be heard now."""
        calling = _calling(conduct)
        if calling is None:
            return Sounding(None, self.at_s), None
        worse = self.heard is None or URGENCY[calling] > URGENCY[self.heard]
        if worse or now_s - self.at_s >= _AGAIN_S[calling]:
            return Sounding(calling, now_s), calling
        return self, None


def _calling(conduct: Conduct) -> Priority | None:
    """Return the highest priority that calls in any lane."""
    found = [
        signal.priority
        for signal in conduct.signals
        if signal.stage is Stage.CALLING and conduct.calls(signal.athlete)
    ]
    return max(found, key=URGENCY.__getitem__, default=None)
