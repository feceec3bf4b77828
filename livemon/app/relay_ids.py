"""A relay's events under ids of its own, so that a hub can put several relays' events together.

Every id begins with the relay's: `gym-1.a1`. Two relays can't speak of the same athlete by mistake,
and a hub refuses what doesn't begin so. Names and free texts are left out unless they are asked
for: what isn't written down can't travel. This file knows events, and neither files nor networks.
"""

from dataclasses import replace
from typing import Final

from livemon.events import (
    Assigned,
    Athlete,
    AthleteChanged,
    Event,
    Head,
    LinkDown,
    LinkUp,
    Mark,
    MarkValue,
    Notification,
    Sensor,
    SensorAdded,
)
from livemon.monitor.mark_fields import MarkKind

#: Stands in no relay's id, so what is before it is the relay.
SEPARATOR: Final = "."
#: Texts in marks that say what was done; any other may say anything about anybody.
_KEPT_TEXTS: Final = frozenset({"work", "site", "sampling_site", "rpe_cr10"})


def relay_of(owned: str) -> str:
    """Return whose id this is; empty if it is no relay's."""
    relay, separator, _ = owned.partition(SEPARATOR)
    return relay if separator else ""


class OwnIds:
    """Gives a relay's ids to heads and events.

    Args:
        names: whether names and free texts stay.
    """

    def __init__(self, relay: str, *, names: bool = False) -> None:
        self._relay = relay
        self._names = names
        self._athletes: list[str] = []

    def head(self, head: Head) -> Head:
        """Return the head under own ids; its adapters stay as they are."""
        self._athletes = [athlete.athlete for athlete in head.athletes]
        return replace(
            head,
            athletes=tuple(self._athlete(athlete) for athlete in head.athletes),
            sensors=tuple(self._sensor(sensor) for sensor in head.sensors),
            assigned=tuple(self._assigned(assigned) for assigned in head.assigned),
        )

    def events(self, event: Event) -> tuple[Event, ...]:
        """Return the event under own ids; a mark for everybody is one for each of ours."""
        match event:
            case Notification() | LinkUp():
                return (replace(event, sensor=self._id(event.sensor)),)
            case LinkDown():
                reason = event.reason if self._names else ""  # it may name the device
                return (replace(event, sensor=self._id(event.sensor), reason=reason),)
            case SensorAdded():
                return (replace(event, sensor=self._sensor(event.sensor)),)
            case AthleteChanged():
                if event.athlete.athlete not in self._athletes:
                    self._athletes.append(event.athlete.athlete)
                return (replace(event, athlete=self._athlete(event.athlete)),)
            case Assigned():
                return (self._assigned(event),)
            case Mark():
                whom = self._athletes if event.athlete is None else [event.athlete]
                return tuple(self._mark(event, athlete) for athlete in whom)
        return (event,)

    def _id(self, known: str) -> str:
        return f"{self._relay}{SEPARATOR}{known}"

    def _athlete(self, athlete: Athlete) -> Athlete:
        name = athlete.name if self._names else ""
        return replace(athlete, athlete=self._id(athlete.athlete), name=name)

    def _sensor(self, sensor: Sensor) -> Sensor:
        own = self._id(sensor.sensor)
        return replace(sensor, sensor=own, name=sensor.name if self._names else own)

    def _assigned(self, event: Assigned) -> Assigned:
        athlete = None if event.athlete is None else self._id(event.athlete)
        return replace(event, sensor=self._id(event.sensor), athlete=athlete)

    def _mark(self, mark: Mark, athlete: str) -> Mark:
        """Return what the mark says of one athlete, who has marks of their own."""

        def own(name: str) -> str:
            return self._id(f"{name}{SEPARATOR}{athlete}")

        kinds = {kind.value for kind in MarkKind}
        return replace(
            mark,
            mark=own(mark.mark),
            athlete=self._id(athlete),
            kind=mark.kind if self._names or mark.kind in kinds else "other",
            details=tuple(
                (key, own(value) if key == "bout" and isinstance(value, str) else value)
                for key, value in mark.details
                if self._names or _tells_nothing(key, value)
            ),
            replaces=None if mark.replaces is None else own(mark.replaces),
        )


def _tells_nothing(key: str, value: MarkValue) -> bool:
    """Tell whether this detail says nothing about who it was."""
    return not isinstance(value, str) or key == "bout" or key in _KEPT_TEXTS
