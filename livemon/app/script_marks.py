"""Marks bouts and recoveries where an invented training's script has them, as a coach would."""

from collections.abc import Callable, Iterator
from typing import Final, Protocol

from livemon.monitor.mark_fields import MarkKind
from livemon.monitor.marks import Details
from livemon.synthetic.script import Phase

_NS_PER_S: Final = 1e9


class Marked(Protocol):
    """A session that takes marks."""

    def mark(self, athlete: str | None, kind: str, details: Details) -> None:
        """Write a mark down as of now."""


class ScriptMarks:
    """Makes each mark once its time has come.

    Args:
        live: takes the marks.
        phases: of the training.
        now_ns: the session's clock; the script begins at its 0.
    """

    def __init__(self, live: Marked, phases: tuple[Phase, ...], now_ns: Callable[[], int]) -> None:
        self._live = live
        self._now_ns = now_ns
        self._left = list(_marks(phases))

    def step(self) -> None:
        """Make what is due."""
        now_s = self._now_ns() / _NS_PER_S
        while self._left and self._left[0][0] <= now_s:
            _, kind, details = self._left.pop(0)
            self._live.mark(None, kind.value, details)


def _marks(phases: tuple[Phase, ...]) -> Iterator[tuple[float, MarkKind, Details]]:
    at_s, working = 0.0, False
    for phase in phases:
        if phase.working:
            yield at_s, MarkKind.BOUT_START, (("work", phase.kind),)
        elif working:
            yield at_s, MarkKind.RECOVERY_START, ()
        working = phase.working
        at_s += phase.seconds
    if working:
        yield at_s, MarkKind.BOUT_END, ()
