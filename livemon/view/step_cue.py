"""When a plan is heard: once as it announces a step, once as the step begins, once at its end."""

from dataclasses import dataclass

from livemon.monitor.snapshot import LaneState
from livemon.view.plan_words import Moment, announcement, moment

#: Athlete, number of the step, and what there is to say about it.
_Said = tuple[str, int, Moment]


@dataclass(frozen=True, slots=True)
class StepCue:
    """What the plans of all lanes have to say at present, and whether anybody has looked yet."""

    said: frozenset[_Said] = frozenset()
    looked: bool = False

    def next(
        self, lanes: tuple[LaneState, ...], muted: frozenset[str] = frozenset()
    ) -> tuple["StepCue", str]:
        """Return the new state, and the words that should be heard now; empty for nothing."""
        saying = frozenset(
            (lane.athlete, lane.plan.number, now)
            for lane in lanes
            if lane.plan is not None and (now := moment(lane)) is not None
        )
        fresh = {athlete for athlete, _, _ in saying - self.said} - muted
        words = _words([lane for lane in lanes if lane.athlete in fresh], lanes)
        # What was being said when the window opened was heard by nobody, and is old.
        return StepCue(saying, looked=True), words if self.looked else ""


def _words(fresh: list[LaneState], lanes: tuple[LaneState, ...]) -> str:
    """Return what is said to all alike, else of whom it is said."""
    said = {announcement(lane): lane for lane in fresh}
    if len(fresh) == len(lanes) and len(said) == 1:
        return announcement(fresh[0])
    return " ".join(f"{lane.name or lane.athlete}: {words}." for words, lane in said.items())
