"""One sensor's place in the air: who holds its link, who subscribed, and how packets get there.

Here happens what the radio and the system do to packets on their way: lost, held back, in another
order, handed over twice, or to somebody who no longer wants them.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Protocol

from livemon.link.simulated.sensor import Packet, SimulatedSensor


class Holder(Protocol):
    """Whoever holds a link to a sensor."""

    def link_ended(self) -> None:
        """The system tells that the link ended."""


@dataclass(slots=True)
class Place:
    """One sensor's place in the air.

    Attributes:
        linked: the sensor's radio is in a link, whoever holds it.
        holder: who is told; None with `linked` is an orphan of a program that was killed.
        earlier: callbacks of links that ended.
    """

    sensor: SimulatedSensor
    switched_on_s: float
    linked: bool = False
    holder: Holder | None = None
    subscribers: dict[str, Callable[[bytes], None]] = field(default_factory=dict)
    earlier: list[tuple[str, Callable[[bytes], None]]] = field(default_factory=list)
    kept: list[Packet] = field(default_factory=list)
    lost: int = 0


class Delivery:
    """Hands packets to whoever subscribed.

    Args:
        later: does something after so many seconds.
        on_delivery: told once of each packet that is handed over, however often that happens.
    """

    def __init__(
        self,
        later: Callable[[float, Callable[[], None]], None],
        on_delivery: Callable[[SimulatedSensor, str, bytes], None],
    ) -> None:
        self._later = later
        self._on_delivery = on_delivery

    def send(self, place: Place, packet: Packet) -> None:
        """Let a packet go out."""
        troubles = place.sensor.troubles
        if packet.characteristic not in place.subscribers or troubles.silent:
            return
        if place.lost < troubles.loses_first:
            place.lost += 1
            return
        place.kept.append(packet)
        if troubles.hold_s and len(place.kept) == 1:
            self._later(troubles.hold_s, lambda: self._release(place))
        if not troubles.hold_s and len(place.kept) >= (2 if troubles.swaps else 1):
            self._release(place)

    def _release(self, place: Place) -> None:
        kept, place.kept = place.kept, []
        if place.sensor.troubles.swaps:
            kept.reverse()
        for packet in kept:
            self._deliver(place, packet.characteristic, place.sensor.payload(packet))

    def _deliver(self, place: Place, characteristic: str, payload: bytes) -> None:
        subscriber = place.subscribers.get(characteristic)
        if subscriber is None:
            return
        self._on_delivery(place.sensor, characteristic, payload)
        for _ in range(place.sensor.troubles.copies):
            subscriber(payload)
        if place.sensor.troubles.old_callbacks:
            for uuid, earlier in place.earlier:
                if uuid == characteristic:
                    earlier(payload)
