"""Invented straps, oximeters and work sensors: what they offer, and what they say off the skin.

Their packets are handed in. No such devices exist.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Final

from livemon.decode.adapter import Adapter
from livemon.decode.battery import BATTERY_LEVEL, BATTERY_SERVICE
from livemon.decode.body_location import BODY_SENSOR_LOCATION, BodyLocation
from livemon.decode.device_information import (
    DEVICE_INFORMATION_SERVICE,
    MANUFACTURER_NAME,
    MODEL_NUMBER,
)
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.decode.machine_fields import FITNESS_MACHINE_SERVICE, ROWER
from livemon.decode.running import RSC_MEASUREMENT, RUNNING_SERVICE
from livemon.decode.samples import HeartRateSample, OxygenationSample
from livemon.link.plan import HEART_RATE_SERVICE
from livemon.link.radio import Channel
from livemon.link.simulated.sensor import Packet, SimulatedSensor
from livemon.synthetic.effort import Device
from livemon.synthetic.packets import heart_rate_packet, oxygenation_packet

_MAKER: Final = b"livemon, invented"
_BATTERY_PCT: Final = 85
_MEASURES: Final = {
    Device.FOOT: Channel(RSC_MEASUREMENT, RUNNING_SERVICE),
    Device.ROWER: Channel(ROWER.characteristic, FITNESS_MACHINE_SERVICE),
}


def invented_strap(address: str, name: str, packets: Iterator[Packet]) -> SimulatedSensor:
    """Return a chest strap that speaks the Heart Rate Profile."""
    off = heart_rate_packet(HeartRateSample(0.0, None, contact=False))
    location = {BODY_SENSOR_LOCATION: bytes([BodyLocation.CHEST.value])}
    return SimulatedSensor(
        address,
        name,
        services={HEART_RATE_SERVICE: (HEART_RATE_MEASUREMENT,)},
        packets=packets,
        readable=_readable(b"strap") | {HEART_RATE_SERVICE: location},
        off_skin=lambda _uuid, _payload: off,
    )


def invented_oximeter(
    address: str, name: str, packets: Iterator[Packet], adapter: Adapter
) -> SimulatedSensor:
    """Return an oximeter that speaks as `adapter` says, with fields like those of the demo's."""
    return SimulatedSensor(
        address,
        name,
        services={adapter.service: (adapter.characteristic,)},
        packets=packets,
        readable=_readable(b"oximeter"),
        off_skin=_without_contact(adapter),
    )


def invented_work_sensor(
    address: str, name: str, packets: Iterator[Packet], device: Device
) -> SimulatedSensor:
    """Return a foot sensor or a rowing machine that speaks its standard profile."""
    channel = _MEASURES[device]
    assert channel.service is not None  # a standard profile always has one
    return SimulatedSensor(
        address,
        name,
        services={channel.service: (channel.characteristic,)},
        packets=packets,
        readable=_readable(device.value.encode()),
    )


def _without_contact(adapter: Adapter) -> Callable[[str, bytes], bytes]:
    """Make a function that says the same packet without skin contact."""

    def off_skin(_: str, payload: bytes) -> bytes:
        for sample in adapter.decode(payload, 0.0, sites=("",)):
            if isinstance(sample, OxygenationSample):
                off = replace(sample, smo2_pct=None, thb=None, contact=False)
                return oxygenation_packet(off, adapter, sample.sequence or 0)
        return payload

    return off_skin


def _readable(model: bytes) -> dict[str, dict[str, bytes]]:
    return {
        BATTERY_SERVICE: {BATTERY_LEVEL: bytes([_BATTERY_PCT])},
        DEVICE_INFORMATION_SERVICE: {MANUFACTURER_NAME: _MAKER, MODEL_NUMBER: model},
    }
