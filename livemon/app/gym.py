"""A gym that isn't there: invented athletes whose sensors are on the simulated radio.

The same scanning, linking and decoding as with real sensors; only what bleak talks to is another.
"""

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

import numpy as np

from livemon.decode.adapter import parse_adapter
from livemon.decode.shipped import shipped_adapters
from livemon.errors import UsageError
from livemon.events import Assigned, Athlete, Head, Sensor
from livemon.link.bleak_radio import BleakRadio
from livemon.link.identity import HostAddress, Registry, Remembered
from livemon.link.plan import Plan, adapter_plan, heart_rate_plan
from livemon.link.simulated.air import Air
from livemon.link.simulated.backends import backends
from livemon.link.simulated.devices import (
    invented_oximeter,
    invented_strap,
    invented_work_sensor,
)
from livemon.link.simulated.faults import Fault, schedule
from livemon.link.simulated.sensor import Packet, SimulatedSensor
from livemon.link.standard_work import work_plan
from livemon.synthetic.effort import Device, effort_packets
from livemon.synthetic.sessions import Training
from livemon.synthetic.training import ADAPTER, head_of, packets_of

HOST: Final = "simulated"
_WORK_NAMES: Final = {Device.FOOT: "foot sensor", Device.ROWER: "rowing machine"}
_WORK_CHANCE: Final = 2904  #: any number, to draw apart from the athlete's own sensors


@dataclass(frozen=True, slots=True)
class Mishap:
    """A fault that happens to one sensor."""

    fault: Fault
    sensor: str
    at_s: float
    for_s: float


@dataclass(frozen=True, slots=True)
class Gym:
    """Everything that a live session needs to read it."""

    head: Head
    plans: tuple[Plan, ...]
    registry: Registry
    sensors: tuple[tuple[str, SimulatedSensor], ...]  #: with our own ids
    mishaps: tuple[Mishap, ...] = ()

    @contextmanager
    def radio(self, now_ns: Callable[[], int]) -> Iterator[BleakRadio]:
        """Switch the sensors on, inside the event loop, for as long as the `with` lasts."""
        air = Air()
        for place, (_, sensor) in enumerate(self.sensors):
            air.add(sensor, phase=(place + 1) / (len(self.sensors) + 1))
        by_id = dict(self.sensors)
        for mishap in self.mishaps:
            touched = by_id[mishap.sensor]
            schedule(mishap.fault, air, touched, at_s=mishap.at_s, for_s=mishap.for_s)
        try:
            yield BleakRadio(now_ns, system=HOST, announce=_say_nothing, backends=backends(air))
        finally:
            air.close()


def _say_nothing(_: str) -> None:
    """Announce nothing: no system asks for permission here."""


def gym_of(
    training: Training,
    athletes: int,
    seed: int,
    mishaps: tuple[Mishap, ...] = (),
    work: Mapping[int, Device] = MappingProxyType({}),
) -> Gym:
    """Return a gym in which so many athletes do the same training, each in their own way.

    `work` says whose work is measured, and by what; athletes are numbered from 1.

    Raises:
        UsageError: something is to happen to a sensor that isn't there.
    """
    one = head_of(training)
    adapter = parse_adapter(shipped_adapters()[ADAPTER], where=ADAPTER)
    head = replace(one, athletes=(), sensors=(), assigned=())
    plans: list[Plan] = []
    registry: list[Remembered] = []
    sensors: list[tuple[str, SimulatedSensor]] = []
    for number in range(1, athletes + 1):
        prefix = "" if athletes == 1 else f"{number}-"
        head = _joined(head, one, number, prefix)
        packets = packets_of(training, np.random.default_rng((seed, number)))
        for place, worn in enumerate(one.sensors):
            sensor = f"{prefix}{worn.sensor}"
            address = f"0A:00:00:00:{number:02X}:{place:02X}"
            sent = [p for p in packets if p.sensor == worn.sensor]
            own = iter([Packet(p.t_s, p.characteristic, p.payload) for p in sent])
            if worn.adapter is None:
                plans.append(heart_rate_plan(sensor))
                there = invented_strap(address, worn.name, own)
            else:
                plans.append(adapter_plan(sensor, adapter.connection))
                there = invented_oximeter(address, worn.name, own, adapter)
            registry.append(
                Remembered(
                    sensor, worn.name, worn.name, worn.adapter, (HostAddress(HOST, address),)
                )
            )
            sensors.append((sensor, there))
        if (device := work.get(number)) is not None:
            measures = _measuring(training, device, (seed, number), prefix)
            head = replace(
                head,
                sensors=(*head.sensors, Sensor(measures.known.sensor, measures.known.name)),
                assigned=(*head.assigned, Assigned(0, measures.known.sensor, f"a{number}")),
            )
            plans.append(work_plan(measures.known.sensor))
            registry.append(measures.known)
            sensors.append((measures.known.sensor, measures.there))
    ids = [sensor for sensor, _ in sensors]
    for mishap in mishaps:
        if mishap.sensor not in ids:
            raise UsageError(f"no sensor {mishap.sensor!r} here; there are {', '.join(ids)}.")
    return Gym(head, tuple(plans), tuple(registry), tuple(sensors), mishaps)


@dataclass(frozen=True, slots=True)
class _Measuring:
    known: Remembered
    there: SimulatedSensor


def _measuring(
    training: Training, device: Device, seed: tuple[int, int], prefix: str
) -> _Measuring:
    """Return what measures one athlete's work; drawn apart, so that others stay as they are."""
    name = f"invented {_WORK_NAMES[device]}"
    address = f"0A:00:00:01:{seed[1]:02X}:00"
    rng = np.random.default_rng((*seed, _WORK_CHANCE))
    sent = effort_packets(rng, training.phases, device)
    packets = iter([Packet(one.t_s, one.characteristic, one.payload) for one in sent])
    known = Remembered(
        f"{prefix}{device.value}", name, name, None, (HostAddress(HOST, address),), work=True
    )
    return _Measuring(known, invented_work_sensor(address, name, packets, device))


def _joined(head: Head, one: Head, number: int, prefix: str) -> Head:
    """Add one more athlete, and what they wear, to `head`."""
    athlete = f"a{number}"
    return replace(
        head,
        athletes=(*head.athletes, Athlete(athlete, f"Lane {number}", one.athletes[0].band_bpm)),
        sensors=(
            *head.sensors,
            *(Sensor(f"{prefix}{s.sensor}", s.name, s.adapter) for s in one.sensors),
        ),
        assigned=(
            *head.assigned,
            *(Assigned(0, f"{prefix}{a.sensor}", athlete, a.sites) for a in one.assigned),
        ),
    )
