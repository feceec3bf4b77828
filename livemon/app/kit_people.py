"""People met before: who they are, and what they usually wear."""

from collections.abc import Callable
from dataclasses import replace

from livemon.events import Athlete
from livemon.link.roster import Entry, Wears


class People:
    """The roster, as it grows.

    Args:
        roster: as kept.
        save: takes the new roster whenever it has changed.
    """

    def __init__(
        self,
        roster: tuple[Entry, ...] = (),
        save: Callable[[tuple[Entry, ...]], None] = lambda _: None,
    ) -> None:
        self.roster = roster
        self._save = save

    def called(self, name: str) -> Athlete | None:
        """Return whoever has this name; any thread may ask."""
        wanted = name.strip().casefold()
        return next(
            (one.athlete for one in self.roster if one.athlete.name.casefold() == wanted), None
        )

    def known(self, athlete: str) -> Athlete | None:
        """Return whoever has this id."""
        return next((one.athlete for one in self.roster if one.athlete.athlete == athlete), None)

    def usual(self, sensor: str) -> tuple[Athlete, tuple[str, ...]] | None:
        """Return who usually wears `sensor`, and on which muscle sites."""
        for entry in self.roster:
            for worn in entry.wears:
                if worn.sensor == sensor:
                    return entry.athlete, worn.sites
        return None

    def keep(self, athlete: Athlete) -> None:
        """Keep somebody, or what has changed of them.

        Raises:
            ConfigError: it can't be written.
        """
        if self.known(athlete.athlete) is None:
            self._take((*self.roster, Entry(athlete)))
            return
        self._take(
            tuple(
                replace(one, athlete=athlete) if one.athlete.athlete == athlete.athlete else one
                for one in self.roster
            )
        )

    def wear(self, athlete: str, sensor: str, sites: tuple[str, ...]) -> None:
        """Keep that `athlete` wears `sensor`, and nobody else does.

        Raises:
            ConfigError: it can't be written.
        """
        self._take(tuple(_wearing(one, athlete, Wears(sensor, sites)) for one in self.roster))

    def _take(self, roster: tuple[Entry, ...]) -> None:
        if roster == self.roster:
            return
        self.roster = roster
        self._save(roster)


def _wearing(entry: Entry, athlete: str, worn: Wears) -> Entry:
    others = tuple(one for one in entry.wears if one.sensor != worn.sensor)
    if entry.athlete.athlete != athlete:
        return replace(entry, wears=others)
    sites = tuple(dict.fromkeys((*entry.sites, *worn.sites)))
    return replace(entry, sites=sites, wears=(*others, worn))
