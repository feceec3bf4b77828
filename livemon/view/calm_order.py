"""The order of the lanes: most urgent on top, but nobody jumps about.

A lane's urgency counts only once it has held for a while, longer for sinking than for rising.
Until then the lane stays where it is; its frame and its words tell of the warning at once. Lanes
of equal urgency keep the order of the roster, so a quiet class always looks the same.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from livemon.view.lanes_model import Urgency

#: Long enough for a value on the edge to make up its mind, short for somebody who drains.
RISE_S: Final = 3.0
#: A lane whose warning has ended is looked for where it was (own choice).
SINK_S: Final = 10.0


@dataclass(frozen=True, slots=True)
class _Held:
    """The urgency that counts, the one that would like to, and since when."""

    counts: Urgency
    wants: Urgency
    since_s: float


class CalmOrder:
    """Remembers since when each lane has had its urgency."""

    def __init__(self) -> None:
        self._held: dict[str, _Held] = {}

    def arrange(
        self, urgency: Mapping[str, Urgency], t_s: float, pinned: frozenset[str] = frozenset()
    ) -> tuple[str, ...]:
        """Return the lanes from top to bottom.

        Args:
            urgency: of each lane, in the order of the roster.
            t_s: session time.
            pinned: stay on top, whatever happens, in the order of the roster.
        """
        self._held = {
            lane: _after(self._held.get(lane), wants, t_s) for lane, wants in urgency.items()
        }
        roster = {lane: at for at, lane in enumerate(urgency)}
        return tuple(
            sorted(
                urgency,
                key=lambda lane: (lane not in pinned, self._rank(lane, pinned), roster[lane]),
            )
        )

    def _rank(self, lane: str, pinned: frozenset[str]) -> int:
        return 0 if lane in pinned else self._held[lane].counts


def _after(held: _Held | None, wants: Urgency, t_s: float) -> _Held:
    if held is None:
        return _Held(wants, wants, t_s)
    if wants is not held.wants:
        held = _Held(held.counts, wants, t_s)
    hold_s = RISE_S if held.wants < held.counts else SINK_S
    if held.wants is not held.counts and t_s - held.since_s >= hold_s:
        return _Held(held.wants, held.wants, held.since_s)
    return held
