"""One sensor as the session sees it: linked or not, when last heard, and who wears it."""

from typing import Final

from livemon.events import Assigned, Sensor
from livemon.monitor.snapshot import SensorState

_NS_PER_S: Final = 1e9
#: The place of whatever has no muscle site; no site is called so, since a site has a name.
HEART: Final = ""


class Worn:
    """A sensor and where its samples go."""

    __slots__ = ("athlete", "battery_pct", "heard_ns", "linked", "sensor", "sites")

    def __init__(self, sensor: Sensor) -> None:
        self.sensor = sensor
        self.athlete: str | None = None  #: who wears it
        self.sites: tuple[str, ...] = ()  #: muscle site of each channel
        self.linked = False
        self.heard_ns: int | None = None  #: when its last notification came
        self.battery_pct: int | None = None

    def assign(self, assigned: Assigned) -> None:
        """Give it to somebody, or take it off."""
        self.athlete = assigned.athlete
        self.sites = assigned.sites

    @property
    def places(self) -> frozenset[str]:
        """Where on its athlete it sits: its muscle sites, or the place of what has none."""
        return frozenset(self.sites or (HEART,))

    def state(self, t_ns: int) -> SensorState:
        """Return what a screen may show of it."""
        silent_ns = None if self.heard_ns is None else t_ns - self.heard_ns
        return SensorState(
            sensor=self.sensor.sensor,
            name=self.sensor.name,
            linked=self.linked,
            silent_for_s=None if silent_ns is None else silent_ns / _NS_PER_S,
            battery_pct=self.battery_pct,
        )
