"""The kit of a running session: who is there, which sensor is whose, what is nearby.

Lives in the engine's thread. What it changes goes into the session as events, so a recording
decodes anywhere; what it knows comes out as one immutable `facts`.
"""

import asyncio
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Final

from livemon.app.kit_adapters import KitAdapters
from livemon.app.kit_asking import ASKING, KitAsking
from livemon.app.kit_baselines import KitBaselines
from livemon.app.kit_facts_of import Use, known, known_as, nearby, used, uses_of
from livemon.app.kit_people import People
from livemon.app.kit_places import (
    check_athlete_name,
    check_free,
    check_place,
    check_sensor_name,
    remembered_as,
    sites_of,
    text_and_plan,
)
from livemon.app.kit_scan import KitScan
from livemon.app.live import Live
from livemon.errors import LivemonError, UsageError
from livemon.events import Assigned, Athlete, AthleteChanged, Head, Sensor, SensorAdded
from livemon.link.inside import Inside
from livemon.tongue import said
from livemon.view.difference_words import difference_hint
from livemon.view.kit_commands import Band
from livemon.view.kit_facts import WORK, KitFacts

#: Often enough to look alive; the list of what is nearby is not cheap to make.
_STEP_NS: Final = 500_000_000


class KitRoom:
    """Carries out what people ask for on the Kit page.

    Args:
        live: the session.
        head: who is there at the start, and what they wear.
        adapters: what can be chosen.
        host: id of this computer.
        now_ns: the session's clock.
        new_id: makes an id of our own, for a "strap", an "oximeter", "work" or an "athlete".
        people: who was met before; kept as they change, but for those of `head`.
        work: which sensors of `head` measure work by a standard profile.
    """

    def __init__(
        self,
        live: Live,
        head: Head,
        adapters: KitAdapters,
        *,
        host: str,
        now_ns: Callable[[], int],
        new_id: Callable[[str], str],
        people: People | None = None,
        work: frozenset[str] = frozenset(),
    ) -> None:
        self._live = live
        self._adapters = adapters
        self._host = host
        self._now_ns = now_ns
        self.new_id = new_id
        self.people = People() if people is None else people
        self._athletes = {one.athlete: one for one in head.athletes}
        #: Ids that stand for whoever trains today, not for one person.
        self._placeholders = frozenset(self._athletes)
        self._uses = uses_of(head, work)
        self._baselines = KitBaselines(live)
        self._leaving: dict[str, asyncio.Task[None]] = {}
        self._scan = KitScan(adapters)
        self._asking = KitAsking(adapters)
        self._outcome: tuple[str, ...] = ()
        self._wishes = 0
        self._due_ns = 0
        self.facts = KitFacts(adapters=adapters.names)
        live.on_step(self.step)

    def do(self, wish: Callable[[], object]) -> None:
        """Carry out one wish, and keep in words what hindered it."""
        self._outcome = ()
        self._wishes += 1
        try:
            wish()
        except LivemonError as problem:
            self._outcome = (str(problem),)
        self._due_ns = 0  # shown at the next step

    def step(self) -> None:
        """Look how everything stands, a few times a second."""
        now_ns = self._now_ns()
        if now_ns < self._due_ns:
            return
        self._due_ns = now_ns + _STEP_NS
        if self._live.latest is not None:
            self._baselines.step(self._live.latest)
        supervision = self._live.supervision
        heard = self._scan.heard(supervision)
        status = {one.sensor: one for one in self._live.statuses()}
        self.facts = KitFacts(
            looking=self._scan.looking,
            everything=self._scan.everything,
            trouble=self._live.trouble,
            nearby=self._scan.in_order(
                nearby(
                    heard,
                    supervision.registry,
                    set(self._uses),
                    self._adapters,
                    self.people,
                    self._asking.found,
                )
            ),
            in_use=tuple(
                used(use, status.get(name), now_ns, difference_hint(self._live.differences, name))
                for name, use in self._uses.items()
            ),
            adapters=self._adapters.names,
            resting=self._baselines.facts(),
            known=known(self.people),
            there=tuple(known_as(one) for one in self._athletes.values()),
            outcome=self._outcome,
            wishes=self._wishes,
        )

    # --- the scan

    def look_around(self, on: bool) -> None:
        """Scan although nothing is missing, or no longer."""
        self._scan.looking = on  # from the next step on: before the first there is no radio

    def list_everything(self, on: bool) -> None:
        """List also what does not look like a sensor, or no longer."""
        self._scan.everything = on

    # --- people

    def add_athlete(
        self, athlete: str, name: str, band: Band, adipose_mm: float | None = None
    ) -> None:
        """Add somebody.

        Raises:
            UsageError: without a name, or with the name of somebody who is there.
        """
        if athlete in self._athletes:
            raise UsageError(said("{name} is there already.", name=self._athletes[athlete].name))
        self.set_athlete(athlete, name, band, adipose_mm)

    def set_athlete(
        self, athlete: str, name: str, band: Band, adipose_mm: float | None = None
    ) -> None:
        """Let somebody have this name, band, and thickness of fat and skin over the muscle.

        Raises:
            UsageError: without a name, or with the name of somebody else.
        """
        check_athlete_name(athlete, name, self._athletes.values())
        before = self._athletes.get(athlete) or self.people.known(athlete) or Athlete(athlete, "")
        changed = replace(before, name=name.strip(), band_bpm=band, adipose_mm=adipose_mm)
        self._athletes[athlete] = changed
        self._live.emit(AthleteChanged(self._now_ns(), changed))
        if athlete not in self._placeholders:
            self.people.keep(changed)

    # --- sensors

    def wear(
        self, key: str, reading: str, athlete: str, site: str, wheel_m: float | None = None
    ) -> None:
        """Read a device from now on, worn by `athlete`.

        Raises:
            UsageError: it is in use, or being set free, or its place is taken.
        """
        supervision = self._live.supervision
        names = {one.address: one.name for one in self.facts.nearby}
        met = remembered_as(
            key,
            reading,
            supervision.registry,
            self._host,
            names=names,
            wheel_m=wheel_m,
            new_id=self.new_id,
        )
        check_free(met, in_use=self._uses, leaving=self._leaving)
        sites = sites_of(reading, site, self._adapters)
        check_place(met.sensor, reading, self._athletes.get(athlete), sites, self._uses.values())
        text, plan = text_and_plan(met.sensor, reading, self._adapters)
        sensor = Sensor(met.sensor, met.name, met.adapter)
        supervision.remember(met)
        self._live.emit(SensorAdded(self._now_ns(), sensor, text))
        self._uses[met.sensor] = Use(sensor, None, (), met.work)
        self._give(met.sensor, athlete, sites, wheel_m)
        supervision.keep(plan)
        self.people.wear(athlete, met.sensor, sites)

    def assign(self, sensor: str, athlete: str, site: str, wheel_m: float | None = None) -> None:
        """Give a sensor in use to `athlete`, on this site or wheel, from now on.

        Raises:
            UsageError: the place is taken.
        """
        reading = self._uses[sensor].reading
        sites = sites_of(reading, site, self._adapters)
        check_place(sensor, reading, self._athletes.get(athlete), sites, self._uses.values())
        self._give(sensor, athlete, sites, wheel_m)
        if reading == WORK:
            self._live.supervision.count_wheel(sensor, wheel_m)
        self.people.wear(athlete, sensor, sites)

    def take_off(self, sensor: str) -> None:
        """Set a sensor free; it stays remembered."""
        if self._uses.pop(sensor, None) is None:
            return
        self._live.emit(Assigned(self._now_ns(), sensor, None))
        leaving = asyncio.create_task(self._live.supervision.release(sensor), name=f"free {sensor}")
        self._leaving[sensor] = leaving
        leaving.add_done_callback(lambda _: self._leaving.pop(sensor))

    def rename_sensor(self, sensor: str, name: str) -> None:
        """Let a sensor in use be called so, in later sessions too.

        Raises:
            UsageError: without a name, or with the name of another sensor in use.
        """
        use = self._uses.get(sensor)
        if use is None:
            return
        check_sensor_name(sensor, name, self._uses.values())
        renamed = replace(use.sensor, name=name.strip())
        self._live.supervision.rename(sensor, renamed.name)
        self._live.emit(SensorAdded(self._now_ns(), renamed))
        self._uses[sensor] = replace(use, sensor=renamed)

    def ask_what(self, key: str) -> None:
        """Open a device to learn what it offers; nothing is written to it.

        Raises:
            UsageError: it is no longer there.
        """
        address = next((one.address for one in self.facts.nearby if one.key == key), "")
        self._live.supervision.look_inside(
            address, lambda answer: self.do(lambda: self._hear(answer))
        )
        self._outcome = (said(ASKING),)

    def _hear(self, answer: Inside | LivemonError) -> None:
        self._outcome = (self._asking.hear(answer),)

    def retry(self, sensor: str) -> None:
        """Try again at once."""
        if sensor in self._uses:
            self._live.supervision.retry(sensor)

    def choose(self, sensor: str, address: str) -> None:
        """Take a person's word that the device at `address` is `sensor`."""
        self._live.supervision.choose(sensor, address)

    def add_adapter(self, path: Path) -> None:
        """Check an adapter file and offer it.

        Raises:
            AdapterError: it can't be used.
        """
        self._outcome = self._adapters.add(path)

    # --- rest

    def start_baseline(self, athlete: str) -> None:
        """Begin the resting baseline of an athlete.

        Raises:
            UsageError: they wear no oximeter.
        """
        worn = [use.sites for use in self._uses.values() if use.athlete == athlete]
        if self._live.latest is not None:
            self._baselines.start(athlete, sum(worn, ()), self._live.latest)

    def stop_baseline(self, athlete: str) -> None:
        """Give it up."""
        self._baselines.stop(athlete)

    def _give(
        self, sensor: str, athlete: str, sites: tuple[str, ...], wheel_m: float | None
    ) -> None:
        use = self._uses[sensor]
        self._uses[sensor] = replace(use, athlete=athlete, sites=sites, wheel_m=wheel_m)
        self._live.emit(Assigned(self._now_ns(), sensor, athlete, sites, wheel_m))
