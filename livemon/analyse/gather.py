"""Read a recording's events into what the analysis takes, one record for each athlete.

The same decoders and the same admission as live: what the live screen refused is refused here. A
sensor's samples belong to whoever wore it when they came.
"""

from collections.abc import Iterable
from typing import Final

from livemon.analyse.effort import with_effort
from livemon.analyse.marked import bouts_from, lactate_from, resting_from
from livemon.analyse.series import NOTHING
from livemon.analyse.session import AthleteRecord
from livemon.analyse.tracks import EffortTrack, HeartTrack, MuscleTrack
from livemon.decode.dispatch import Decoders
from livemon.decode.samples import HeartRateSample, IntensitySample, OxygenationSample
from livemon.errors import DecodeError
from livemon.events import (
    Assigned,
    AthleteChanged,
    Event,
    Gap,
    Head,
    LinkDown,
    Mark,
    Notification,
    SensorAdded,
)
from livemon.monitor.corrections import MarkBook

_RESTING: Final = "(resting)"  # how a site's name says that its muscle doesn't do the work


def records_of(
    head: Head, events: Iterable[Event], *, idle_sites: frozenset[str] = frozenset()
) -> tuple[AthleteRecord, ...]:
    """Gather every athlete's series, bouts and samples.

    Args:
        head: of the recording.
        events: its events, in order.
        idle_sites: sites on muscles that rest; those named "... (resting)" are added.
    """
    gathered = _Gathered(head)
    for event in events:
        gathered.take(event)
    return tuple(gathered.record(athlete, idle_sites) for athlete in gathered.athletes)


class _Gathered:
    """What has been read so far."""

    __slots__ = ("_book", "_decoders", "_efforts", "_end_ns", "_hearts", "_muscles", "_session",
                 "_worn", "athletes")  # fmt: skip

    def __init__(self, head: Head) -> None:
        self.athletes = {athlete.athlete: athlete for athlete in head.athletes}
        self._session = head.session
        self._decoders = Decoders(head.sensors, head.adapters)
        self._worn: dict[str, Assigned] = {}
        self._hearts: dict[str, HeartTrack] = {}
        self._efforts: dict[str, EffortTrack] = {}
        self._muscles: dict[str, dict[str, MuscleTrack]] = {}
        self._book = MarkBook()
        self._end_ns = 0
        for assigned in head.assigned:
            self._assign(assigned)

    def take(self, event: Event) -> None:
        """Take the next event."""
        self._end_ns = max(self._end_ns, event.t_ns)
        match event:
            case Notification():
                self._decode(event)
            case Mark():
                self._book.add(event)
            case Assigned():
                self._assign(event)
            case AthleteChanged():
                self.athletes[event.athlete.athlete] = event.athlete
            case SensorAdded():
                self._decoders.add(event.sensor, event.adapter_text)
            case LinkDown():
                self._decoders.restart(event.sensor)
            case Gap():
                self._decoders.restart_all()
                for sites in self._muscles.values():
                    for track in sites.values():
                        track.restart()

    def record(self, athlete: str, idle_sites: frozenset[str]) -> AthleteRecord:
        """Return what the analysis takes of one athlete."""
        heart, muscles = self._hearts.get(athlete), self._muscles.get(athlete, {})
        effort = self._efforts.get(athlete)
        smo2 = {site: track.smo2() for site, track in muscles.items()}
        thb = {site: track.thb() for site, track in muscles.items()}
        named = self.athletes[athlete]
        bouts = bouts_from(self._book, athlete, self._end_ns, self._session)
        return AthleteRecord(
            athlete=named.name or athlete,
            bouts=bouts if effort is None else with_effort(bouts, effort),
            heart_rate=NOTHING if heart is None else heart.series(),
            smo2=smo2,
            thb={site: series for site, series in thb.items() if len(series)},
            lactate=lactate_from(self._book, athlete),
            band_bpm=named.band_bpm,
            idle_sites=idle_sites | {s for s in smo2 if s.lower().endswith(_RESTING)},
            resting=resting_from(self._book, athlete),
        )

    def _assign(self, assigned: Assigned) -> None:
        """Note who wears the sensor; its sites are listed even if nothing ever comes from them."""
        self._worn[assigned.sensor] = assigned
        self._decoders.on_wheel(assigned.sensor, assigned.wheel_m)
        if assigned.athlete is not None:
            sites = self._muscles.setdefault(assigned.athlete, {})
            for site in assigned.sites:
                sites.setdefault(site, MuscleTrack())

    def _decode(self, event: Notification) -> None:
        worn = self._worn.get(event.sensor)
        if worn is None or worn.athlete is None:
            return
        try:
            samples = self._decoders.decode(event, sites=worn.sites)
        except DecodeError:
            return  # counted live, where somebody can do something about it
        for sample in samples:
            if isinstance(sample, HeartRateSample):
                self._hearts.setdefault(worn.athlete, HeartTrack()).take(sample)
            elif isinstance(sample, IntensitySample):
                self._efforts.setdefault(worn.athlete, EffortTrack()).take(sample)
            elif isinstance(sample, OxygenationSample):
                sites = self._muscles.setdefault(worn.athlete, {})
                sites.setdefault(sample.site, MuscleTrack()).take(sample)
