"""Who is there, what they are called, and who wears which sensor at the moment."""

from collections.abc import Iterable

from livemon.errors import UsageError
from livemon.events import Assigned, Athlete, AthleteChanged, Event, Head


class Who:
    """Follows a recording's events.

    Args:
        head: of the recording.
        only: ids or names of the athletes who are asked for; empty for everybody.
    """

    __slots__ = ("_athletes", "_only", "_wanted", "_worn")

    def __init__(self, head: Head, only: Iterable[str] = ()) -> None:
        self._only = frozenset(only)
        self._athletes: dict[str, Athlete] = {}
        self._wanted: set[str] = set()
        self._worn: dict[str, Assigned] = {}
        for athlete in head.athletes:
            self._meet(athlete)
        for assigned in head.assigned:
            self._worn[assigned.sensor] = assigned

    def take(self, event: Event) -> None:
        """Note what changes."""
        if isinstance(event, Assigned):
            self._worn[event.sensor] = event
        elif isinstance(event, AthleteChanged):
            self._meet(event.athlete)

    def wears(self, sensor: str) -> Assigned:
        """Return who wears `sensor`, and on which sites; nobody, if nobody said."""
        return self._worn.get(sensor) or Assigned(0, sensor, None)

    def wanted(self, athlete: str) -> bool:
        """Say whether this athlete was asked for."""
        return athlete in self._wanted

    @property
    def athletes(self) -> tuple[str, ...]:
        """Ids of those who are asked for, in the order in which they came."""
        return tuple(athlete for athlete in self._athletes if athlete in self._wanted)

    def name(self, athlete: str) -> str | None:
        """Return what the athlete is called; None if nobody said."""
        known = self._athletes.get(athlete)
        return (known.name or None) if known else None

    def demand_all(self) -> None:
        """Check that all who were asked for were there.

        Raises:
            UsageError: somebody was not; says who is there.
        """
        called = {name for one in self._athletes.values() for name in (one.athlete, one.name)}
        for asked in sorted(self._only - called):
            there = ", ".join(one.name or one.athlete for one in self._athletes.values())
            there = there or "nobody"
            raise UsageError(f"nobody in this recording is called {asked!r}; it has {there}.")

    def _meet(self, athlete: Athlete) -> None:
        self._athletes[athlete.athlete] = athlete
        if not self._only or self._only & {athlete.athlete, athlete.name}:
            self._wanted.add(athlete.athlete)
