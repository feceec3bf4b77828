"""Turn a recording's events into rows of readings, decoded and admitted as in the live session.

Nothing is left out: a reading that the live session refused stands there with the reason.
"""

from collections.abc import Iterator
from typing import Final

from livemon.decode.dispatch import Decoders
from livemon.decode.samples import (
    ArterialSample,
    BatterySample,
    HeartRateSample,
    IntensitySample,
    OxygenationSample,
)
from livemon.decode.standard import Sample
from livemon.errors import DecodeError
from livemon.events import Assigned, Event, Gap, Head, LinkDown, Notification, SensorAdded
from livemon.exchange.channel_units import ChannelUnits, Units
from livemon.exchange.table import Row, Table
from livemon.exchange.tables import (
    BATTERY,
    HEART_RATE,
    INTENSITY,
    OXYGENATION,
    RR_INTERVALS,
    SPO2,
)
from livemon.exchange.who import Who
from livemon.series.admit import HeartRateGate, OxygenationGate

_US_PER_S: Final = 1e6  # as the live gates count

Placed = tuple[Table, Row]


class Readings:
    """Reads one recording's events, in order.

    Args:
        head: of the recording.
        who: who wears what; told of every event before this is.
    """

    __slots__ = ("_decoders", "_hearts", "_muscles", "_units", "_who", "rejected")

    def __init__(self, head: Head, who: Who) -> None:
        self._who = who
        self._decoders = Decoders(head.sensors, head.adapters)
        for assigned in head.assigned:
            self._decoders.on_wheel(assigned.sensor, assigned.wheel_m)
        self._units = ChannelUnits(head)
        self._hearts: dict[str, HeartRateGate] = {}
        self._muscles: dict[tuple[str, str], OxygenationGate] = {}
        self.rejected = 0  #: notifications that no decoder could read

    def rows(self, event: Event) -> Iterator[Placed]:
        """Yield the rows that `event` gives."""
        match event:
            case Notification():
                yield from self._decoded(event)
            case SensorAdded():
                self._decoders.add(event.sensor, event.adapter_text)
                self._units.add(event.sensor, event.adapter_text)
            case Assigned():
                self._decoders.on_wheel(event.sensor, event.wheel_m)
            case LinkDown():
                self._decoders.restart(event.sensor)
            case Gap():
                self._decoders.restart_all()
                for gate in self._muscles.values():
                    gate.restart()

    def _decoded(self, event: Notification) -> Iterator[Placed]:
        worn = self._who.wears(event.sensor)
        try:
            samples = self._decoders.decode(event, sites=worn.sites)
        except DecodeError:
            self.rejected += 1
            return
        for sample in samples:
            if isinstance(sample, BatterySample):
                yield BATTERY, (event.t_ns, event.sensor, sample.battery_pct)
            elif worn.athlete is not None and self._who.wanted(worn.athlete):
                yield from self._worn(event, worn, sample)

    def _worn(self, event: Notification, worn: Assigned, sample: Sample) -> Iterator[Placed]:
        athlete = worn.athlete or ""
        front = (event.t_ns, athlete, self._who.name(athlete), event.sensor)
        match sample:
            case OxygenationSample():
                channel = worn.sites.index(sample.site)
                units = self._units.of(event.sensor, channel)
                yield OXYGENATION, front + self._oxygenation(athlete, sample, units)
            case HeartRateSample():
                yield from self._heart_rate(front, athlete, sample)
            case IntensitySample():
                yield INTENSITY, (*front, *_intensity(sample))
            case ArterialSample():
                yield SPO2, (*front, sample.spo2_pct, sample.pulse_bpm, sample.trusted)

    def _oxygenation(self, athlete: str, sample: OxygenationSample, units: Units) -> Row:
        gate = self._muscles.get((athlete, sample.site))
        if gate is None:
            gate = self._muscles[athlete, sample.site] = OxygenationGate()
        refusal = gate.refuse(round(sample.t_s * _US_PER_S), sample)
        return (
            sample.site,
            sample.smo2_pct,
            sample.thb,
            None if sample.thb is None else units.thb,
            sample.o2hb,
            None if sample.o2hb is None else units.o2hb,
            sample.hhb,
            None if sample.hhb is None else units.hhb,
            sample.contact,
            sample.quality_pct,
            sample.sequence,
            sample.device_t_s,
            None if refusal is None else refusal.value,
        )

    def _heart_rate(self, front: Row, athlete: str, sample: HeartRateSample) -> Iterator[Placed]:
        gate = self._hearts.get(athlete)
        if gate is None:
            gate = self._hearts[athlete] = HeartRateGate()
        refusal = gate.refuse(round(sample.t_s * _US_PER_S), sample)
        reason = None if refusal is None else refusal.value
        yield HEART_RATE, (*front, sample.bpm, sample.contact, sample.energy_kj, reason)
        for rr_s in sample.rr_s:
            yield RR_INTERVALS, (*front, rr_s, reason)


def _intensity(sample: IntensitySample) -> Row:
    return (
        sample.source.value,
        sample.power_w,
        sample.speed_m_per_s,
        sample.cadence_per_min,
        sample.distance_m,
        sample.incline_pct,
        sample.bpm,
    )
