"""A gym of invented athletes with their sensors, for `livemon simulate`, demonstrations and tests.

Each athlete does the same invented training, begun at another moment and with other noise. The same
seed gives the same bytes. Sensors, names and numbers are invented.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import count
from typing import Final

import numpy as np

from livemon.decode.adapter import parse_adapter
from livemon.decode.shipped import shipped_adapters
from livemon.events import Assigned, Athlete, Sensor
from livemon.link.identity import Registry, Remembered
from livemon.link.plan import Plan, adapter_plan, heart_rate_plan
from livemon.link.simulated.devices import invented_oximeter, invented_strap
from livemon.link.simulated.sensor import Packet, SimulatedSensor
from livemon.synthetic.sessions import IN_BALANCE, Training
from livemon.synthetic.training import ADAPTER, OXIMETERS, STRAP, packets_of

#: So that athletes don't do the same thing at the same time.
_APART_S: Final = 37.0


@dataclass(frozen=True, slots=True)
class Cast:
    """Who is in the gym and what they wear.

    Attributes:
        devices: what is in the air, by our own id of the sensor.
        athletes: who they are.
        sensors: how their bytes are to be read.
        assigned: who wears what.
        registry: the sensors as remembered, found by their names.
        plans: how to read them.
    """

    devices: dict[str, SimulatedSensor]
    athletes: tuple[Athlete, ...]
    sensors: tuple[Sensor, ...]
    assigned: tuple[Assigned, ...]
    registry: Registry
    plans: tuple[Plan, ...]


def cast(athletes: int, seed: int, training: Training = IN_BALANCE) -> Cast:
    """Invent `athletes` people, each with a strap and an oximeter for each muscle."""
    adapter = parse_adapter(shipped_adapters()[ADAPTER], where=ADAPTER)
    devices: dict[str, SimulatedSensor] = {}
    sensors: list[Sensor] = []
    assigned: list[Assigned] = []
    plans: list[Plan] = []
    for number in range(1, athletes + 1):
        athlete = f"a{number}"
        packets = _packets(training, seed + number, begun_s=(number - 1) * _APART_S)
        for place, part in enumerate((STRAP, *OXIMETERS[: len(training.oximeters)])):
            sensor, name = f"{athlete}-{part}", f"Invented {part} {number}"
            is_strap = part == STRAP
            address = f"C0:00:00:00:{number:02X}:{place:02X}"
            sent = _over_and_over(packets.get(part, []))
            devices[sensor] = (
                invented_strap(address, name, sent)
                if is_strap
                else invented_oximeter(address, name, sent, adapter)
            )
            sensors.append(Sensor(sensor, name, None if is_strap else ADAPTER))
            sites = () if is_strap else (training.body.muscles[place - 1].site,)
            assigned.append(Assigned(0, sensor, athlete, sites))
            plans.append(
                heart_rate_plan(sensor) if is_strap else adapter_plan(sensor, adapter.connection)
            )
    return Cast(
        devices=devices,
        athletes=tuple(
            Athlete(f"a{n}", f"Athlete {n}", training.band_bpm) for n in range(1, athletes + 1)
        ),
        sensors=tuple(sensors),
        assigned=tuple(assigned),
        registry=tuple(Remembered(s.sensor, s.name, s.name, s.adapter) for s in sensors),
        plans=tuple(plans),
    )


def _packets(training: Training, seed: int, begun_s: float) -> dict[str, list[Packet]]:
    """Return a training that began `begun_s` ago, by sensor."""
    parts: dict[str, list[Packet]] = {}
    for one in packets_of(training, np.random.default_rng(seed)):
        if one.t_s >= begun_s:
            packet = Packet(one.t_s - begun_s, one.characteristic, one.payload)
            parts.setdefault(one.sensor, []).append(packet)
    return parts


def _over_and_over(packets: list[Packet]) -> Iterator[Packet]:
    """Begin again when the training is over."""
    if not packets:
        return
    lasts_s = packets[-1].t_s + 1.0
    for turn in count():
        for packet in packets:
            yield replace(packet, t_s=packet.t_s + turn * lasts_s)
