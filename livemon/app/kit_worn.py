"""The sensors in use in a running session: who wears which where, and what they are called."""

import asyncio
from collections.abc import Callable, Mapping
from dataclasses import replace

from livemon.app.kit_adapters import KitAdapters
from livemon.app.kit_facts_of import Use, uses_of
from livemon.app.kit_people import People
from livemon.app.kit_places import (
    check_free,
    check_place,
    check_sensor_name,
    remembered_as,
    sites_of,
    text_and_plan,
)
from livemon.app.kit_there import KitThere
from livemon.app.live import Live
from livemon.events import Assigned, Head, Sensor, SensorAdded
from livemon.view.kit_facts import WORK


class KitWorn:
    """Puts sensors on athletes, and takes them off.

    Args:
        live: the session; it is told of every change.
        head: what is worn at the start.
        adapters: how oximeters are read.
        there: who can wear them.
        people: who was met before; what they wear is kept there.
        host: id of this computer.
        now_ns: the session's clock.
        new_id: makes an id for a new "strap", "oximeter" or "work" sensor.
        work: which sensors of `head` measure work by a standard profile.

    Attributes:
        uses: the sensors in use, by id.
    """

    def __init__(
        self,
        live: Live,
        head: Head,
        adapters: KitAdapters,
        there: KitThere,
        people: People,
        *,
        host: str,
        now_ns: Callable[[], int],
        new_id: Callable[[str], str],
        work: frozenset[str],
    ) -> None:
        self._live = live
        self._adapters = adapters
        self._there = there
        self._people = people
        self._host = host
        self._now_ns = now_ns
        self._new_id = new_id
        self.uses = uses_of(head, work)
        self._leaving: dict[str, asyncio.Task[None]] = {}

    def wear(
        self,
        key: str,
        reading: str,
        athlete: str,
        site: str,
        wheel_m: float | None,
        *,
        names: Mapping[str, str | None],
    ) -> None:
        """Read a device from now on, worn by `athlete`.

        `names` are what devices nearby call themselves, by address.

        Raises:
            UsageError: it is in use, or being set free, or its place is taken.
        """
        supervision = self._live.supervision
        met = remembered_as(
            key,
            reading,
            supervision.registry,
            self._host,
            names=names,
            wheel_m=wheel_m,
            new_id=self._new_id,
        )
        check_free(met, in_use=self.uses, leaving=self._leaving)
        sites = sites_of(reading, site, self._adapters)
        check_place(met.sensor, reading, self._there.by_id(athlete), sites, self.uses.values())
        text, plan = text_and_plan(met.sensor, reading, self._adapters)
        sensor = Sensor(met.sensor, met.name, met.adapter)
        supervision.remember(met)
        self._live.emit(SensorAdded(self._now_ns(), sensor, text))
        self.uses[met.sensor] = Use(sensor, None, (), met.work)
        self._give(met.sensor, athlete, sites, wheel_m)
        supervision.keep(plan)
        self._people.wear(athlete, met.sensor, sites)

    def assign(self, sensor: str, athlete: str, site: str, wheel_m: float | None) -> None:
        """Give a sensor in use to `athlete`, on this site or wheel, from now on.

        Raises:
            UsageError: the place is taken.
        """
        reading = self.uses[sensor].reading
        sites = sites_of(reading, site, self._adapters)
        check_place(sensor, reading, self._there.by_id(athlete), sites, self.uses.values())
        self._give(sensor, athlete, sites, wheel_m)
        if reading == WORK:
            self._live.supervision.count_wheel(sensor, wheel_m)
        self._people.wear(athlete, sensor, sites)

    def take_off(self, sensor: str) -> None:
        """Set a sensor free; it stays remembered."""
        if self.uses.pop(sensor, None) is None:
            return
        self._live.emit(Assigned(self._now_ns(), sensor, None))
        leaving = asyncio.create_task(self._live.supervision.release(sensor), name=f"free {sensor}")
        self._leaving[sensor] = leaving
        leaving.add_done_callback(lambda _: self._leaving.pop(sensor))

    def rename(self, sensor: str, name: str) -> None:
        """Let a sensor in use be called so, in later sessions too.

        Raises:
            UsageError: without a name, or with the name of another sensor in use.
        """
        use = self.uses.get(sensor)
        if use is None:
            return
        check_sensor_name(sensor, name, self.uses.values())
        renamed = replace(use.sensor, name=name.strip())
        self._live.supervision.rename(sensor, renamed.name)
        self._live.emit(SensorAdded(self._now_ns(), renamed))
        self.uses[sensor] = replace(use, sensor=renamed)

    def retry(self, sensor: str) -> None:
        """Try again at once."""
        if sensor in self.uses:
            self._live.supervision.retry(sensor)

    def _give(
        self, sensor: str, athlete: str, sites: tuple[str, ...], wheel_m: float | None
    ) -> None:
        use = self.uses[sensor]
        self.uses[sensor] = replace(use, athlete=athlete, sites=sites, wheel_m=wheel_m)
        self._live.emit(Assigned(self._now_ns(), sensor, athlete, sites, wheel_m))
