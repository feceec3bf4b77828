"""The athletes of a running session: their names, bands, and fat and skin over the muscle."""

from collections.abc import Callable, Iterator
from dataclasses import replace

from livemon.app.kit_people import People
from livemon.app.kit_places import check_athlete_name
from livemon.app.live import Live
from livemon.errors import UsageError
from livemon.events import Athlete, AthleteChanged, Head
from livemon.tongue import said
from livemon.view.kit_commands import Band


class KitThere:
    """Who is there.

    Args:
        live: the session; it is told of every change.
        head: who is there at the start. Their ids stand for whoever trains today, not for one
            person, so they are not kept.
        people: who was met before; everybody else is kept there.
        now_ns: the session's clock.
    """

    def __init__(
        self, live: Live, head: Head, people: People, *, now_ns: Callable[[], int]
    ) -> None:
        self._live = live
        self._people = people
        self._now_ns = now_ns
        self._athletes = {one.athlete: one for one in head.athletes}
        self._placeholders = frozenset(self._athletes)

    def __iter__(self) -> Iterator[Athlete]:
        return iter(self._athletes.values())

    def by_id(self, athlete: str) -> Athlete | None:
        """Return whoever has this id."""
        return self._athletes.get(athlete)

    def add(self, athlete: str, name: str, band: Band, adipose_mm: float | None = None) -> None:
        """Add somebody.

        Raises:
            UsageError: without a name, or with the name of somebody who is there.
        """
        if athlete in self._athletes:
            raise UsageError(said("{name} is there already.", name=self._athletes[athlete].name))
        self.change(athlete, name, band, adipose_mm)

    def change(self, athlete: str, name: str, band: Band, adipose_mm: float | None = None) -> None:
        """Let somebody have this name, band, and thickness of fat and skin over the muscle.

        Raises:
            UsageError: without a name, or with the name of somebody else.
        """
        check_athlete_name(athlete, name, self)
        before = self.by_id(athlete) or self._people.known(athlete) or Athlete(athlete, "")
        changed = replace(before, name=name.strip(), band_bpm=band, adipose_mm=adipose_mm)
        self._athletes[athlete] = changed
        self._live.emit(AthleteChanged(self._now_ns(), changed))
        if athlete not in self._placeholders:
            self._people.keep(changed)
