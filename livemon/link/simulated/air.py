"""What one Bluetooth adapter can hear and hold: its rules, its slots, and the sensors around it.

It imitates what an adapter does to a program: one scan or one attempt to open a link at a time,
sensors that vanish from the scan while somebody holds them, slots that run out. It runs on the
event loop's timers, so on virtual time it needs no time at all.
"""

import asyncio
from collections.abc import Callable
from itertools import count
from typing import Protocol

from bleak.exc import (
    BleakBluetoothNotAvailableError,
    BleakBluetoothNotAvailableReason,
    BleakDBusError,
)

from livemon.link.simulated.place import Delivery, Holder, Place
from livemon.link.simulated.sensor import EndWord, Packet, SimulatedSensor

#: A supervision time-out at the long end of what is common.
_LATE_WORD_S = 6.0


class Scanner(Protocol):
    """Whoever listens for advertisements."""

    def heard(self, sensor: SimulatedSensor) -> None:
        """An advertisement came."""


class Air:
    """One adapter and its surroundings.

    Attributes:
        slots: how many links the adapter can hold.
        taken_elsewhere: how many of these other programs hold.
        powered: Bluetooth is on.
        allowed: the system lets this program use it.
        busy: another program keeps the adapter busy: every scan and opening fails.
        overlaps: how often somebody scanned or opened while an opening was going on.
        scans: how often somebody started to scan.
        scanned_s: for how long, over those that ended.
        openings: how often somebody opened a link.
    """

    def __init__(
        self,
        *,
        slots: int = 64,
        on_delivery: Callable[[SimulatedSensor, str, bytes], None] = lambda *_: None,
    ) -> None:
        self.slots = slots
        self.taken_elsewhere = 0
        self.powered = True
        self.allowed = True
        self.busy = False
        self.overlaps = 0
        self.scans = 0
        self.scanned_s = 0.0
        self.openings = 0
        self.places: list[Place] = []
        self._delivery = Delivery(self.later, on_delivery)
        self._scanners: dict[Scanner, float] = {}
        self._opening = 0
        self._timers: dict[int, asyncio.TimerHandle] = {}
        self._numbers = count()

    def add(self, sensor: SimulatedSensor, *, phase: float = 0.5) -> None:
        """Bring a sensor near and switch it on; it advertises `phase` of an interval from now."""
        place = Place(sensor, asyncio.get_running_loop().time())
        self.places.append(place)
        self.later(phase * sensor.advertises_every_s, lambda: self._advertise(place))
        self._send_next(place)

    def place(self, sensor: SimulatedSensor) -> Place:
        """Return where `sensor` is."""
        return next(place for place in self.places if place.sensor is sensor)

    @property
    def links(self) -> int:
        """How many links the adapter holds."""
        return sum(place.linked for place in self.places)

    def close(self) -> None:
        """Stop everything; no timer is left."""
        for timer in self._timers.values():
            timer.cancel()
        self._timers.clear()

    def later(self, wait_s: float, do: Callable[[], None]) -> None:
        """Do something after a while, unless the air is closed before."""

        def due() -> None:
            del self._timers[number]
            do()

        number = next(self._numbers)
        self._timers[number] = asyncio.get_running_loop().call_later(wait_s, due)

    # --- scanning

    def start_scan(self, scanner: Scanner) -> None:
        """Begin to report advertisements to `scanner`."""
        self._need_adapter()
        self.scans += 1
        self._scanners[scanner] = asyncio.get_running_loop().time()

    def stop_scan(self, scanner: Scanner) -> None:
        """Report no more to `scanner`."""
        started_s = self._scanners.pop(scanner, None)
        if started_s is not None:
            self.scanned_s += asyncio.get_running_loop().time() - started_s

    def _advertise(self, place: Place) -> None:
        self.later(place.sensor.advertises_every_s, lambda: self._advertise(place))
        if self._can_be_heard(place):
            for scanner in tuple(self._scanners):
                scanner.heard(place.sensor)

    def _can_be_heard(self, place: Place) -> bool:
        troubles = place.sensor.troubles
        free = not (place.linked or troubles.off or troubles.held_elsewhere)
        return free and self.powered and self.links + self.taken_elsewhere < self.slots

    # --- links

    async def open(self, sensor: SimulatedSensor, holder: Holder) -> Place:
        """Give `holder` the link to `sensor`; one that an earlier program left is taken over."""
        if self._scanners or self._opening:
            self.overlaps += 1
            raise BleakDBusError("org.bluez.Error.InProgress", ["Operation already in progress"])
        self._need_adapter()
        self.openings += 1
        self._opening += 1
        try:
            if sensor.troubles.opening_hangs:
                await _for_ever()
            await asyncio.sleep(sensor.opening_s)
        finally:
            self._opening -= 1
        place = self.place(sensor)
        if not place.linked and (sensor.troubles.opening_fails or not self._can_be_heard(place)):
            raise BleakDBusError("org.bluez.Error.Failed", ["le-connection-abort-by-remote"])
        place.linked, place.holder, place.lost = True, holder, 0
        place.subscribers = {}
        return place

    async def close_link(self, place: Place) -> None:
        """End a link on behalf of who holds it."""
        if place.sensor.troubles.closing_hangs:
            await _for_ever()
        self._end(place)

    def drop(self, sensor: SimulatedSensor) -> None:
        """End a link as the radio does: out of range, or the sensor went off."""
        place = self.place(sensor)
        holder = place.holder
        if not place.linked:
            return
        self._end(place)
        if holder is None:
            return
        match sensor.troubles.end_word:
            case EndWord.AT_ONCE:
                holder.link_ended()
            case EndWord.TWICE:
                holder.link_ended()
                holder.link_ended()
            case EndWord.LATE:
                self.later(_LATE_WORD_S, holder.link_ended)
            case EndWord.NEVER:
                pass

    def leave_orphan(self, sensor: SimulatedSensor) -> None:
        """Let the system hold a link that no program knows of."""
        place = self.place(sensor)
        self._end(place)
        place.linked = True

    def switch_off(self) -> None:
        """Switch Bluetooth off: all links end."""
        self.powered = False
        for place in self.places:
            self.drop(place.sensor)

    def _end(self, place: Place) -> None:
        place.earlier += place.subscribers.items()
        place.linked, place.holder = False, None
        place.subscribers, place.kept = {}, []

    def _need_adapter(self) -> None:
        if not self.allowed:
            raise BleakBluetoothNotAvailableError(
                "denied", BleakBluetoothNotAvailableReason.DENIED_BY_USER
            )
        if not self.powered:
            raise BleakBluetoothNotAvailableError(
                "powered off", BleakBluetoothNotAvailableReason.POWERED_OFF
            )
        if self.busy:
            raise BleakDBusError("org.bluez.Error.InProgress", ["Operation already in progress"])

    # --- packets

    def _send_next(self, place: Place) -> None:
        packet = next(place.sensor.packets, None)
        if packet is None:
            return
        wait_s = place.switched_on_s + packet.t_s - asyncio.get_running_loop().time()
        self.later(max(wait_s, 0.0), lambda: self._due(place, packet))

    def _due(self, place: Place, packet: Packet) -> None:
        self._delivery.send(place, packet)
        self._send_next(place)


async def _for_ever() -> None:
    await asyncio.get_running_loop().create_future()
