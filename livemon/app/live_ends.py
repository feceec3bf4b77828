"""What a live session needs of the world beside the radio: a journal, and what relays send."""

from collections.abc import Iterable
from typing import Protocol

from livemon.events import Event
from livemon.record.side_lines import SideLine


class Recorder(Protocol):
    """What a live session needs of a journal."""

    def append(self, event: Event, *, now_s: float) -> None:
        """Write `event` down."""

    def note(self, side: SideLine, *, now_s: float) -> None:
        """Write down what is no event."""

    def tick(self, *, now_s: float) -> None:
        """Look after the file; called each second."""

    def close(self, *, now_s: float) -> object:
        """Put everything away."""


class Inflow(Protocol):
    """Where events come from that other machines saw."""

    def due(self, now_ns: int) -> Iterable[Event]:
        """Return what is to be fed now, in order.

        Raises:
            LivemonError: nothing more will ever come.
        """

    def settled_ns(self, now_ns: int) -> int:
        """Return the time up to which nothing more is expected."""
