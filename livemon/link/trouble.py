"""What can go wrong on the way to one sensor, told apart by what to do next.

All of these are a `LinkLost`: supervision survives them. A `RadioError` (Bluetooth itself can't be
used) is not among them. This file knows no Bluetooth library; `bleak_errors` fills it from one.
"""

from livemon.errors import LinkLost


class RadioBusy(LinkLost):
    """The adapter does something else just now (another program's scan, a dead attempt)."""


class SensorNotFound(LinkLost):
    """The system no longer knows the device: it is gone, or the adapter has no slot left."""


class SensorRefuses(LinkLost):
    """The sensor wants a pairing that isn't there; trying again by itself would never end."""


class CharacteristicMissing(LinkLost):
    """The sensor does not offer what its adapter names, or the system remembers an old table."""

    def __init__(self, characteristic: str) -> None:
        super().__init__(f"the sensor offers no characteristic {characteristic}")
        self.characteristic = characteristic
