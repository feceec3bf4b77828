"""A training session as a recording would hold it: a head, and notifications, links and marks.

The same script, seed and start give the same bytes on every run.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.random import Generator

from livemon.decode.adapter import Adapter, parse_adapter
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.decode.samples import HeartRateSample
from livemon.decode.shipped import shipped_adapters
from livemon.events import (
    Assigned,
    Athlete,
    End,
    Event,
    Head,
    LinkDown,
    LinkUp,
    Mark,
    Notification,
    Sensor,
)
from livemon.synthetic.body import truth
from livemon.synthetic.oximeter import oximeter_stream
from livemon.synthetic.packets import heart_rate_packet, oxygenation_packet
from livemon.synthetic.radio import Sample
from livemon.synthetic.sessions import Training
from livemon.synthetic.strap import strap_stream

ADAPTER: Final = "invented-demo"
ATHLETE: Final = "a1"
STRAP: Final = "strap"
#: Sensor on each muscle of the demo's body, in its order.
OXIMETERS: Final = ("thigh", "forearm")

_NS_PER_S: Final = 1_000_000_000
#: A label on the recording; invented like the rest.
_STARTED_UTC: Final = "2026-03-02T17:30:00+00:00"


@dataclass(frozen=True, slots=True)
class Packet:
    """One notification: when it is handed over, by which sensor, and its bytes."""

    t_s: float
    sensor: str
    characteristic: str
    payload: bytes


def head_of(training: Training, name: str = "Lane 3") -> Head:
    """Return who wears what in `training`."""
    sites = tuple(muscle.site for muscle in training.body.muscles)
    worn = zip(OXIMETERS, sites, strict=False)
    return Head(
        started_utc=_STARTED_UTC,
        session=training.name,
        athletes=(Athlete(ATHLETE, name, training.band_bpm),),
        sensors=(
            Sensor(STRAP, "invented strap"),
            *(Sensor(o, f"invented oximeter, {o}", ADAPTER) for o in OXIMETERS[: len(sites)]),
        ),
        adapters=((ADAPTER, shipped_adapters()[ADAPTER]),),
        assigned=(
            Assigned(0, STRAP, ATHLETE),
            *(Assigned(0, sensor, ATHLETE, (site,)) for sensor, site in worn),
        ),
    )


def packets_of(training: Training, rng: Generator) -> list[Packet]:
    """Return what the sensors send, in the order of arrival."""
    adapter = parse_adapter(shipped_adapters()[ADAPTER], where=ADAPTER)
    true = truth(training.phases, training.body)
    streams = [(STRAP, strap_stream(rng, true, training.strap))]
    for place, oximeter in enumerate(training.oximeters):
        streams.append((OXIMETERS[place], oximeter_stream(rng, true, place, oximeter)))
    packets = [
        Packet(at_s, sensor, *_bytes(sample, adapter, number))
        for sensor, stream in streams
        for number, (at_s, sample) in enumerate(stream)
    ]
    packets.sort(key=lambda packet: packet.t_s)
    return packets


def events_of(training: Training, seed: int) -> Iterator[Event]:
    """Yield the session's events in order of time, bouts marked, and its end."""
    rng = np.random.default_rng(seed)
    events: list[Event] = [LinkUp(0, sensor) for sensor in (STRAP, *OXIMETERS)]
    for packet in packets_of(training, rng):
        if any(
            sensor == packet.sensor and begin_s <= packet.t_s < end_s
            for sensor, begin_s, end_s in training.trouble.link_lost
        ):
            continue
        payload = packet.payload
        if rng.random() < training.trouble.cut_share:
            payload = payload[: int(rng.integers(0, len(payload)))]
        t_ns = round(packet.t_s * 1000) * 1_000_000  # whole milliseconds read better
        events.append(Notification(t_ns, packet.sensor, packet.characteristic, payload))
    for sensor, begin_s, end_s in training.trouble.link_lost:
        events.append(LinkDown(round(begin_s) * _NS_PER_S, sensor, "out of reach"))
        events.append(LinkUp(round(end_s) * _NS_PER_S, sensor))
    marks = list(_marks(training))
    end_ns = round(sum(phase.seconds for phase in training.phases)) * _NS_PER_S
    events += marks
    events.sort(key=lambda event: event.t_ns)
    yield from (event for event in events if event.t_ns <= end_ns)
    yield End(end_ns)


def _bytes(sample: Sample, adapter: Adapter, number: int) -> tuple[str, bytes]:
    if isinstance(sample, HeartRateSample):
        return HEART_RATE_MEASUREMENT, heart_rate_packet(sample)
    return adapter.characteristic, oxygenation_packet(sample, adapter, number)


def _marks(training: Training) -> Iterator[Mark]:
    """Mark each bout and recovery where the script begins one."""
    at_s = 0.0
    working = False
    for number, phase in enumerate(training.phases):
        t_ns = round(at_s) * _NS_PER_S
        if phase.working:
            details = (("work", phase.kind), ("planned_s", phase.seconds))
            yield Mark(t_ns, f"m{number}", None, "bout_start", details)
        elif working:
            yield Mark(t_ns, f"m{number}", None, "recovery_start", ())
        working = phase.working
        at_s += phase.seconds
