"""One sensor as the session sees it: linked or not, when last heard, and who wears it."""

from typing import Final

from livemon.events import Assigned, Sensor
from livemon.monitor.snapshot import SensorState

_NS_PER_S: Final = 1e9
#: The place of what sends a heart rate; no muscle site is called so, since a site has a name.
HEART: Final = ""


class Worn:
    """A sensor and where its samples go."""

    __slots__ = (
        "athlete",
        "battery_pct",
        "described",
        "heard_ns",
        "heart",
        "linked",
        "sensor",
        "sites",
    )

    def __init__(self, sensor: Sensor) -> None:
        self.sensor = sensor
        self.athlete: str | None = None  #: who wears it
        self.sites: tuple[str, ...] = ()  #: muscle site of each channel
        self.linked = False
        self.described: bytes | None = None  #: its presentation format, if it gave one
        self.heard_ns: int | None = None  #: when its last notification came
        self.battery_pct: int | None = None
        self.heart = False  #: it has sent a heart rate; a foot sensor, say, never does

    def assign(self, assigned: Assigned) -> None:
        """Give it to somebody, or take it off."""
        self.athlete = assigned.athlete
        self.sites = assigned.sites

    @property
    def places(self) -> frozenset[str]:
        """Where on its athlete it sits: its muscle sites, and the heart's if it told of that."""
        return frozenset((*self.sites, HEART) if self.heart else self.sites)

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
