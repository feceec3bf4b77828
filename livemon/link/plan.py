"""What to do on a link: what to subscribe to, what to write at its start, how long to be patient.

A plan comes from the adapter file, or from the heart rate profile. Nothing is ever written that is
not in it.
"""

from dataclasses import dataclass, field
from typing import Final

from livemon.link.radio import Channel
from livemon.link.silence import Patience

_BASE: Final = "0000{:04x}-0000-1000-8000-00805f9b34fb"

HEART_RATE_SERVICE: Final = _BASE.format(0x180D)
HEART_RATE_MEASUREMENT: Final = _BASE.format(0x2A37)
BODY_SENSOR_LOCATION: Final = _BASE.format(0x2A38)
BATTERY_SERVICE: Final = _BASE.format(0x180F)
BATTERY_LEVEL: Final = _BASE.format(0x2A19)
DEVICE_INFORMATION: Final = _BASE.format(0x180A)
SERIAL_NUMBER: Final = _BASE.format(0x2A25)
MANUFACTURER_NAME: Final = _BASE.format(0x2A29)
MODEL_NUMBER: Final = _BASE.format(0x2A24)
FIRMWARE_REVISION: Final = _BASE.format(0x2A26)


@dataclass(frozen=True, slots=True)
class StartWrite:
    """Something to write once the link stands, because the adapter file says so."""

    characteristic: str
    payload: bytes
    response: bool = True


@dataclass(frozen=True, slots=True)
class Plan:
    """How to read one sensor.

    Attributes:
        sensor: our own id.
        channels: what to subscribe to; the link counts as good when all of these stand.
        writes: in this order, after subscribing.
        patience: how long it may be silent.
        acquire: on BlueZ subscribe by AcquireNotify.
        pair: pair before opening the link.
    """

    sensor: str
    channels: tuple[Channel, ...]
    writes: tuple[StartWrite, ...] = ()
    patience: Patience = field(default_factory=lambda: Patience.for_period(1.0))
    acquire: bool = False
    pair: bool = False


def heart_rate_plan(sensor: str) -> Plan:
    """Return how to read a strap that speaks the Heart Rate Profile."""
    return Plan(sensor, (Channel(HEART_RATE_MEASUREMENT, HEART_RATE_SERVICE),))
