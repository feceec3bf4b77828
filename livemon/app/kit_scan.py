"""What the Kit page looks for in the air, and in which order it is shown."""

from contextlib import ExitStack

from livemon.app.kit_adapters import KitAdapters
from livemon.link.nearby import NearbyDevice
from livemon.link.supervision import Supervision
from livemon.view.kit_facts import Device


class KitScan:
    """Scans while somebody looks.

    Attributes:
        looking: somebody wants to see what is nearby.
        everything: also what does not look like a sensor.
    """

    def __init__(self, adapters: KitAdapters) -> None:
        self.looking = self.everything = False
        self._adapters = adapters
        self._scan = ExitStack()
        self._scanning = False
        self._places: dict[str, int] = {}

    def heard(self, supervision: Supervision) -> tuple[NearbyDevice, ...]:
        """Begin or end the scan as is wanted; return what is heard."""
        if self.looking and not self._scanning:
            self._scan.enter_context(supervision.looking_around())
        elif self._scanning and not self.looking:
            self._scan.close()
        self._scanning = self.looking
        if not self.looking:  # in a busy hall the list is not cheap, and nobody sees it now
            return ()
        return supervision.nearby(self._adapters.kinds(), everything=self.everything)

    def in_order(self, devices: tuple[Device, ...]) -> tuple[Device, ...]:
        """Return them in the order in which they were first heard, so that no line jumps."""
        for device in devices:
            self._places.setdefault(device.key, len(self._places))
        unlikely = {one.key for one in devices if not one.looks_like and one.remembered is None}
        return tuple(sorted(devices, key=lambda one: (one.key in unlikely, self._places[one.key])))
