"""One sensor's state while it is looked after; the only mutable part of supervision.

It keeps what the status shows and answers how long data have been missing. It decides nothing.
"""

from dataclasses import asdict

from livemon.link.radio import Sighting
from livemon.link.status import Cause, Counters, Details, LinkState


class Tally:
    """What is known of one sensor's link just now."""

    def __init__(self, now_ns: int) -> None:
        self.state = LinkState.SEARCHING
        self.since_ns = now_ns
        self.heard_ns: int | None = None
        self.missing_since_ns: int | None = now_ns
        self.generation = 0
        self._counts = asdict(Counters())
        self.details = Details()
        self.rssi_dbm: int | None = None
        self.battery_pct: int | None = None
        self.battery_ns: int | None = None
        self.candidates: tuple[Sighting, ...] = ()
        self.cause = Cause.NONE
        self.problem = ""

    def to(self, state: LinkState, now_ns: int) -> None:
        """Enter a state; staying in it keeps its beginning."""
        if state is self.state:
            return
        if self.state is LinkState.LIVE:
            self.missing_since_ns = self.heard_ns
        self.state, self.since_ns = state, now_ns

    def begin_link(self, now_ns: int) -> None:
        """A link stands; patience begins with it."""
        self.generation += 1
        self.count("opened")
        self.heard_ns = now_ns
        self.to(LinkState.OPEN, now_ns)

    def heard(self, t_ns: int) -> None:
        """A notification came and is written down."""
        self.count("notifications")
        self.heard_ns = t_ns
        if self.state is not LinkState.LIVE:
            self.to(LinkState.LIVE, t_ns)
            self.missing_since_ns = None

    def read_battery(self, battery_pct: int | None, now_ns: int) -> None:
        """The battery was read; what it did not tell is not known."""
        self.battery_pct = battery_pct
        self.battery_ns = None if battery_pct is None else now_ns

    def failed(self, cause: Cause, problem: str) -> None:
        """A link or an attempt came to nothing."""
        self.cause, self.problem = cause, problem

    @property
    def counters(self) -> Counters:
        """What happened so far."""
        return Counters(**self._counts)

    def count(self, what: str) -> None:
        """Add one to a counter."""
        self._counts[what] += 1
