"""A relay's recording as it is sent: what is in it, and how far it has come."""

from collections.abc import Callable
from dataclasses import dataclass, field

from livemon.net.fresh_lines import FreshLines
from livemon.net.outlet import Outlet


@dataclass(slots=True)
class Journal:
    """A recording that is sent, or was not sent to its end by an earlier run.

    Attributes:
        head: its head line, without names; published for those who join.
        read: returns lines by their numbers, counted from 1 and without newlines; fewer, or none,
            where the disk can't be read just now.
        written: how many lines there are already.
    """

    session: str
    head: bytes
    read: Callable[[range], tuple[bytes, ...]]
    written: int = 0
    introduced: bool = False  #: its head was published on this connection
    outlet: Outlet = field(init=False)
    fresh: FreshLines = field(init=False)

    def __post_init__(self) -> None:
        self.outlet = Outlet(self.written)
        self.fresh = FreshLines(self.written + 1)
