"""Everybody at once: events in, changes out, a snapshot on request.

The session decodes each notification, gives its samples to the athlete who wears the sensor, and
keeps what belongs to nobody's muscle: who wears what, links and batteries. It knows no clock: time
is the time of the events, and silence is told by `advance`.
"""

from collections import Counter
from collections.abc import Callable
from typing import Final

from livemon.decode.dispatch import Decoders
from livemon.decode.presentation_format import PRESENTATION_FORMAT
from livemon.decode.samples import BatterySample, HeartRateSample
from livemon.errors import DecodeError
from livemon.events import (
    Assigned,
    AthleteChanged,
    End,
    Event,
    Gap,
    Head,
    LinkDown,
    LinkUp,
    Mark,
    Notification,
    SensorAdded,
)
from livemon.monitor.changes import Change
from livemon.monitor.lane import Lane
from livemon.monitor.snapshot import SessionSnapshot
from livemon.monitor.ticks import TickGrid
from livemon.monitor.worn import HEART, Worn

_NS_PER_S: Final = 1e9  # divided by, as the decoders do: the last bit agrees

#: A change, and the athlete it is about.
Told = tuple[str, Change]
#: A sensor's id, its name, and where its own description and its adapter differ, in words.
Difference = tuple[str, str, str]


class Session:
    """The core for a whole class.

    Args:
        head: who is there and what they wear at the start.
        each_tick: called with the session at each tick of the grid, after the tick was fed.
    """

    def __init__(self, head: Head, *, each_tick: Callable[["Session"], None] | None = None) -> None:
        self._head = head
        self._each_tick = each_tick
        self._grid = TickGrid()
        self._decoders = Decoders(head.sensors, head.adapters)
        self._worn = {sensor.sensor: Worn(sensor) for sensor in head.sensors}
        self._lanes = {athlete.athlete: Lane(athlete) for athlete in head.athletes}
        self._rejected: Counter[str] = Counter()
        self._ended = False
        self._t_ns = 0
        self.differences: tuple[Difference, ...] = ()
        for assigned in head.assigned:
            self._assign(assigned)

    @property
    def t_ns(self) -> int:
        """Time of the newest event or tick."""
        return self._t_ns

    def feed(self, event: Event) -> tuple[Told, ...]:
        """Take the next event, after the ticks that are due before it; return what changed.

        Events come in order of `t_ns`. What can't be used is counted, never raised.
        """
        if isinstance(event, Gap):
            # The ticks that nobody watched are not made up: the readings would age in between.
            self._grid.skip_to(event.t_ns)
        told = self.advance(event.t_ns) if self._grid.next_ns <= event.t_ns else ()
        self._t_ns = event.t_ns
        if isinstance(event, Notification):
            return told + self._notification(event)
        return told + self._other(event)

    def advance(self, t_ns: int) -> tuple[Told, ...]:
        """Let time pass to `t_ns`: the ticks until then fall due."""
        told: list[Told] = []
        for tick_ns in self._grid.until(t_ns):
            self._t_ns = tick_ns
            t_s = tick_ns / _NS_PER_S
            for name, lane in self._lanes.items():
                told += [(name, change) for change in lane.advance(t_s)]
            if self._each_tick is not None:
                self._each_tick(self)
        return tuple(told)

    def snapshot(self) -> SessionSnapshot:
        """Return everybody's state as of the newest event or tick."""
        sensors: dict[str | None, list[Worn]] = {}
        for worn in self._worn.values():
            sensors.setdefault(worn.athlete, []).append(worn)
        t_s = self._t_ns / _NS_PER_S
        return SessionSnapshot(
            t_s=t_s,
            started_utc=self._head.started_utc,
            lanes=tuple(
                lane.state(t_s, tuple(worn.state(self._t_ns) for worn in sensors.get(name, ())))
                for name, lane in self._lanes.items()
            ),
            rejected=tuple(sorted(self._rejected.items())),
            ended=self._ended,
        )

    def _notification(self, event: Notification) -> tuple[Told, ...]:
        worn = self._worn.get(event.sensor)
        if worn is None:
            self._rejected["unknown sensor"] += 1
            return ()
        worn.heard_ns = event.t_ns
        try:
            samples = self._decoders.decode(event, sites=worn.sites)
        except DecodeError as error:
            self._rejected[error.problem] += 1
            return ()
        if event.characteristic == PRESENTATION_FORMAT:
            worn.described = event.payload
            self._compare(worn)
        lane = self._lanes.get(worn.athlete) if worn.athlete is not None else None
        changes: tuple[Change, ...] = ()
        for sample in samples:
            if isinstance(sample, BatterySample):
                worn.battery_pct = sample.battery_pct
                continue
            worn.heart = worn.heart or isinstance(sample, HeartRateSample)
            if lane is None:
                self._rejected["worn by nobody"] += 1
            else:
                changes += lane.feed(sample)
        if not changes:
            return ()
        return tuple((worn.athlete or "", change) for change in changes)

    def _compare(self, worn: Worn) -> None:
        """Keep where the sensor's own description differs from its adapter."""
        if worn.described is None:
            return
        sensor = worn.sensor
        found = self._decoders.contradictions(sensor.sensor, worn.described)
        others = tuple(one for one in self.differences if one[0] != sensor.sensor)
        self.differences = (*others, *((sensor.sensor, sensor.name, words) for words in found))

    def _other(self, event: Event) -> tuple[Told, ...]:
        """Take an event that is not a notification: they are rare, so order costs nothing."""
        match event:
            case LinkUp():
                if worn := self._worn.get(event.sensor):
                    worn.linked = True
            case LinkDown():
                if worn := self._worn.get(event.sensor):
                    worn.linked = False
                self._decoders.restart(event.sensor)
            case SensorAdded():
                self._decoders.add(event.sensor, event.adapter_text)
                worn = self._worn.setdefault(event.sensor.sensor, Worn(event.sensor))
                worn.sensor = event.sensor
                self._compare(worn)
            case AthleteChanged():
                if lane := self._lanes.get(event.athlete.athlete):
                    lane.change(event.athlete)
                else:
                    self._lanes[event.athlete.athlete] = Lane(event.athlete)
            case Assigned():
                return self._assign(event)
            case Mark():
                self._mark(event)
            case Gap():
                self._decoders.restart_all()
                t_s = event.t_ns / _NS_PER_S
                return tuple(
                    (name, change) for name, lane in self._lanes.items() for change in lane.gap(t_s)
                )
            case End():  # pragma: no branch - there is no other kind
                self._ended = True
        return ()

    def _assign(self, assigned: Assigned) -> tuple[Told, ...]:
        worn = self._worn.get(assigned.sensor)
        if worn is None or (assigned.athlete is not None and assigned.athlete not in self._lanes):
            self._rejected["assignment of the unknown"] += 1
            return ()
        left, places = worn.athlete, worn.places
        worn.assign(assigned)
        self._decoders.on_wheel(assigned.sensor, assigned.wheel_m)
        if assigned.athlete is not None:
            self._lanes[assigned.athlete].wear(assigned.sites)
        return () if left is None else self._leave(left, places)

    def _leave(self, athlete: str, places: frozenset[str]) -> tuple[Told, ...]:
        """Let nothing linger of the places that a sensor left, unless another one is there."""
        taken = (worn.places for worn in self._worn.values() if worn.athlete == athlete)
        left = places.difference(*taken)
        if HEART in left:
            self._lanes[athlete].leave_heart_rate()
        changes = self._lanes[athlete].leave(sorted(left - {HEART}))
        return tuple((athlete, change) for change in changes)

    def _mark(self, mark: Mark) -> None:
        if mark.athlete is not None and mark.athlete not in self._lanes:
            self._rejected["mark for the unknown"] += 1
            return
        for name in self._lanes if mark.athlete is None else (mark.athlete,):
            self._lanes[name].mark(mark)
