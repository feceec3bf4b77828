"""A small gym on virtual time: simulated sensors, the real bleak, our radio and supervision.

What the air delivered and what was emitted are both written down, so that a test can compare them.
"""

import asyncio
from collections import Counter
from collections.abc import Callable, Iterator
from random import Random

from livemon.decode.battery import BATTERY_LEVEL, BATTERY_SERVICE
from livemon.decode.device_information import DEVICE_INFORMATION_SERVICE
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.decode.uuids import sig_uuid
from livemon.events import Event, LinkDown, LinkUp, Notification
from livemon.link.bleak_radio import BleakRadio
from livemon.link.identity import HostAddress, Registry, Remembered
from livemon.link.plan import (
    HEART_RATE_SERVICE,
    Plan,
    heart_rate_plan,
)
from livemon.link.radio import Channel
from livemon.link.silence import Patience
from livemon.link.simulated.air import Air
from livemon.link.simulated.backends import backends
from livemon.link.simulated.sensor import Packet, SimulatedSensor
from livemon.link.simulated.virtual_loop import VirtualTimeLoop
from livemon.link.status import LinkState, LinkStatus
from livemon.link.supervision import Supervision

HOST = "this computer"
SECOND_NS = 1_000_000_000
#: Invented, as are all sensors here.
OXYGEN_SERVICE = "7a0c0001-6e1d-4c55-9b7e-10f3c2a94e11"
SERIAL_NUMBER = sig_uuid(0x2A25)
OXYGEN_CHARACTERISTIC = "7a0c0002-6e1d-4c55-9b7e-10f3c2a94e11"


def counting(characteristic: str, prefix: bytes, every_s: float) -> Iterator[Packet]:
    """Send packets that all differ, so that each can be told from every other."""
    number = 0
    while True:
        number += 1
        yield Packet(number * every_s, characteristic, prefix + number.to_bytes(4, "little"))


def with_serial(device: SimulatedSensor) -> SimulatedSensor:
    """Give a device a serial number of its own."""
    serial = device.address.encode()
    device.readable = device.readable | {DEVICE_INFORMATION_SERVICE: {SERIAL_NUMBER: serial}}
    return device


def strap(number: int, name: str | None = None) -> SimulatedSensor:
    """Return a heart rate strap that sends once a second."""
    return SimulatedSensor(
        address=f"C0:00:00:00:00:{number:02X}",
        name=name or f"Strap {number}",
        services={HEART_RATE_SERVICE: (HEART_RATE_MEASUREMENT,)},
        readable={BATTERY_SERVICE: {BATTERY_LEVEL: b"\x55"}},
        packets=counting(HEART_RATE_MEASUREMENT, bytes([number]), 1.0),
    )


def oximeter(number: int, every_s: float = 0.5) -> SimulatedSensor:
    """Return an oximeter that sends twice a second."""
    return SimulatedSensor(
        address=f"D0:00:00:00:00:{number:02X}",
        name=f"Oximeter {number}",
        services={OXYGEN_SERVICE: (OXYGEN_CHARACTERISTIC,)},
        packets=counting(OXYGEN_CHARACTERISTIC, bytes([number]), every_s),
    )


def remembered(sensor: str, device: SimulatedSensor) -> Remembered:
    """Return what this computer knows of a device it has met before."""
    return Remembered(
        sensor,
        name=sensor,
        advertised_name=device.name,
        addresses=(HostAddress(HOST, device.address),),
    )


def plan_for(sensor: str, device: SimulatedSensor) -> Plan:
    """Return how to read a device."""
    if HEART_RATE_SERVICE in device.services:
        return heart_rate_plan(sensor)
    return Plan(
        sensor,
        (Channel(OXYGEN_CHARACTERISTIC, OXYGEN_SERVICE),),
        patience=Patience.for_period(0.5),
    )


class Gym:
    """Sensors by our own id, supervised."""

    def __init__(
        self,
        sensors: dict[str, SimulatedSensor],
        *,
        registry: Registry | None = None,
        slots: int = 64,
        seed: int = 1,
    ) -> None:
        self.loop = asyncio.get_running_loop()
        self.sensors = sensors
        self.chance = Random(seed)
        self.delivered: list[tuple[str, str, bytes]] = []
        self.events: list[Event] = []
        self._heard_ns: dict[str, int] = {}
        self.saved: list[Registry] = []
        self.air = Air(slots=slots, on_delivery=self._delivered)
        self.radio = BleakRadio(
            self.now_ns, system="Linux", announce=lambda _: None, backends=backends(self.air)
        )
        known = tuple(remembered(*item) for item in sensors.items())
        self.supervision = Supervision(
            self.radio,
            self._emitted,
            known if registry is None else registry,
            HOST,
            now_ns=self.now_ns,
            chance=self.chance,
            services=frozenset({HEART_RATE_SERVICE, OXYGEN_SERVICE}),
            on_learned=self.saved.append,
        )

    async def __aenter__(self) -> "Gym":
        for device in self.sensors.values():
            self.air.add(device, phase=self.chance.random())
        self.supervision.start()
        for sensor, device in self.sensors.items():
            self.supervision.keep(plan_for(sensor, device))
        return self

    async def __aexit__(self, *_: object) -> None:
        await self.supervision.stop()
        self.air.close()

    def now_ns(self) -> int:
        assert isinstance(self.loop, VirtualTimeLoop)
        return self.loop.now_ns()

    def _emitted(self, event: Event) -> None:
        self.events.append(event)
        if isinstance(event, Notification) and event.characteristic != BATTERY_LEVEL:
            self._heard_ns[event.sensor] = event.t_ns

    def _delivered(self, device: SimulatedSensor, characteristic: str, payload: bytes) -> None:
        sensor = next(key for key, value in self.sensors.items() if value is device)
        self.delivered.append((sensor, characteristic, payload))

    # --- what came of it

    def notified(self, sensor: str | None = None) -> list[Notification]:
        """Return the notifications of the sensors' own channels; no battery."""
        return [
            event
            for event in self.events
            if isinstance(event, Notification)
            and event.characteristic != BATTERY_LEVEL
            and sensor in {None, event.sensor}
        ]

    def status(self, sensor: str) -> LinkStatus:
        return next(s for s in self.supervision.statuses() if s.sensor == sensor)

    def each_delivery_was_recorded_once(self) -> bool:
        recorded = [(n.sensor, n.characteristic, n.payload) for n in self.notified()]
        return Counter(recorded) == Counter(self.delivered)

    def links_are_paired(self) -> bool:
        """LinkUp and LinkDown alternate for each sensor, beginning with LinkUp."""
        for sensor in self.sensors:
            kinds = [
                type(e)
                for e in self.events
                if not isinstance(e, Notification) and e.sensor == sensor
            ]
            if kinds != [LinkUp, LinkDown] * (len(kinds) // 2) + [LinkUp] * (len(kinds) % 2):
                return False
        return True

    def heard_ns(self, sensor: str) -> int | None:
        """Return when the latest notification of a sensor was recorded."""
        return self._heard_ns.get(sensor)

    def links_of(self, sensor: str) -> int:
        return sum(isinstance(e, LinkUp) and e.sensor == sensor for e in self.events)

    def nobody_got_anothers_data(self) -> bool:
        """Payloads begin with their device's number, so each can be traced to its device."""
        own = {
            sensor: int(device.address.rsplit(":", 1)[1], 16)
            for sensor, device in self.sensors.items()
        }
        return all(not one.payload or one.payload[0] == own[one.sensor] for one in self.notified())

    async def until(self, state: LinkState, sensor: str, at_most_s: float = 60.0) -> float:
        """Wait for a state; return how many seconds it took."""
        return await self.until_true(lambda: self.status(sensor).state is state, at_most_s)

    async def until_true(
        self,
        claim: Callable[[], bool],
        at_most_s: float = 60.0,
        otherwise: Callable[[], str] = lambda: "it did not happen in time",
    ) -> float:
        start_s = self.loop.time()
        while not claim():
            assert self.loop.time() - start_s < at_most_s, otherwise()
            await asyncio.sleep(0.05)
        return self.loop.time() - start_s
