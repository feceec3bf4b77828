"""Look after all sensors of one adapter: what the rest of the program holds of Bluetooth.

    supervision = Supervision(radio, emit, registry, host, now_ns=..., chance=..., services=...)
    supervision.start()
    supervision.keep(plan)
    ...
    await supervision.stop()

Each sensor has a task of its own, and none knows of another. To be used from one event loop.
"""

import asyncio
from collections.abc import Callable, Mapping
from contextlib import AbstractContextManager
from dataclasses import replace
from random import Random

from livemon.errors import LinkLost, RadioError, UsageError
from livemon.events import Event
from livemon.link.airtime import AirTime
from livemon.link.farewell import Farewell
from livemon.link.finder import Finder
from livemon.link.hints import hint
from livemon.link.identity import Registry, Remembered
from livemon.link.inside import Inside, look_inside
from livemon.link.nearby import NearbyDevice, survey
from livemon.link.plan import Plan
from livemon.link.radio import Radio, Sighting
from livemon.link.status import LinkState, LinkStatus
from livemon.link.supervise import Keeper, Surroundings

#: States in which a link stands.
_LINKED = frozenset({LinkState.OPEN, LinkState.LIVE, LinkState.SILENT})


class Supervision:
    """All sensors of one adapter.

    Args:
        emit: takes each event, exactly once, in order of arrival; must be quick.
        registry: the remembered sensors; each that is to be kept must be among them.
        host: id of this computer, so that addresses of other computers are left alone.
        services: services that our sensors offer, to find links that an earlier run left open.
        on_learned: takes the new registry when an address was learned; save it then.
    """

    def __init__(
        self,
        radio: Radio,
        emit: Callable[[Event], None],
        registry: Registry,
        host: str,
        *,
        now_ns: Callable[[], int],
        chance: Random,
        services: frozenset[str],
        on_learned: Callable[[Registry], None] = lambda _: None,
    ) -> None:
        self._now_ns = now_ns
        self._finder = Finder(registry, host, now_ns=now_ns, on_learned=on_learned)
        self._air = AirTime(radio, self._finder.heard, services=services)
        self._farewell = Farewell()
        self._shared = Surroundings(self._air, self._finder, self._farewell, emit, now_ns, chance)
        self._keepers: dict[str, tuple[Keeper, asyncio.Task[None]]] = {}
        self._scan: asyncio.Task[None] | None = None
        self._looks: set[asyncio.Task[None]] = set()

    def start(self) -> None:
        """Begin; call it inside the event loop."""
        self._scan = asyncio.create_task(self._air.run(), name="scan")

    async def stop(self) -> None:
        """End everything and set the sensors free; takes 6 s at most."""
        tasks = [*self._looks, *(task for _, task in self._keepers.values())]
        if self._scan is not None:
            tasks.append(self._scan)
        for task in tasks:
            task.cancel()
        if tasks:
            await asyncio.wait(tasks)
        await self._farewell.finish()

    # --- sensors

    def keep(self, plan: Plan) -> None:
        """Look after a sensor from now on; a sensor that is looked after already begins again.

        Raises:
            UsageError: the sensor is not in the registry.
        """
        if all(known.sensor != plan.sensor for known in self._finder.registry):
            raise UsageError(f"sensor {plan.sensor} is not in the registry; remember it first")
        before = self._keepers.get(plan.sensor)
        if before is not None:
            before[0].plan = plan
            before[0].begin_again("settings changed")
            return
        keeper = Keeper(plan, self._shared)
        task = asyncio.create_task(keeper.run(), name=f"sensor {plan.sensor}")
        self._keepers[plan.sensor] = (keeper, task)

    async def release(self, sensor: str) -> None:
        """Look after a sensor no longer, and set it free."""
        _, task = self._keepers.pop(sensor)
        task.cancel()
        await asyncio.wait({task})

    def retry(self, sensor: str) -> None:
        """Try again at once, also after the sensor refused."""
        self._keepers[sensor][0].retry()

    def begin_again(self, reason: str) -> None:
        """Give up all links and scans and open new ones: the computer slept."""
        self._air.refresh()
        for keeper, _ in self._keepers.values():
            keeper.begin_again(reason)

    # --- identity

    @property
    def registry(self) -> Registry:
        """What is known of the sensors by now, with the batteries as last read."""
        read = {sensor: keeper.tally.battery_pct for sensor, (keeper, _) in self._keepers.items()}
        return tuple(
            known
            if read.get(known.sensor) is None
            else replace(known, battery_pct=read[known.sensor])
            for known in self._finder.registry
        )

    def remember(self, remembered: Remembered) -> None:
        """Add a sensor to the registry, or replace what is known of it."""
        self._finder.remember(remembered)

    def rename(self, sensor: str, name: str) -> None:
        """Let people call a remembered sensor so."""
        self._finder.remember(replace(self._finder.remembered(sensor), name=name))

    def count_wheel(self, sensor: str, wheel_m: float | None) -> None:
        """Remember how far the wheel that a sensor counts goes in one revolution."""
        self._finder.remember(replace(self._finder.remembered(sensor), wheel_m=wheel_m))

    def choose(self, sensor: str, address: str) -> None:
        """Take a person's word that the device at `address` is `sensor`."""
        self._finder.learn(sensor, address)

    # --- the scan

    def looking_around(self) -> AbstractContextManager[None]:
        """Scan as long as the `with` lasts, although nothing is missing."""
        return self._air.listening()

    def nearby(
        self, kinds: Mapping[str, str], *, everything: bool = False
    ) -> tuple[NearbyDevice, ...]:
        """List what was heard lately; see `survey`."""
        finder = self._finder
        return survey(
            finder.nearby.at(self._now_ns()),
            finder.registry,
            finder.host,
            kinds,
            everything=everything,
        )

    def look_inside(
        self, address: str, tell: Callable[[Inside | LinkLost | RadioError], None]
    ) -> None:
        """Learn what a device nearby offers; `tell` takes it, or why it could not be learned.

        Raises:
            UsageError: it is not nearby.
        """
        seen = self._finder.nearby.at(self._now_ns())
        sighting = next((one.sighting for one in seen if one.sighting.address == address), None)
        if sighting is None:
            raise UsageError("It is no longer there; wait until it is heard again.")
        look = asyncio.create_task(self._look_inside(sighting, tell), name=f"look {address}")
        self._looks.add(look)
        look.add_done_callback(self._looks.discard)

    async def _look_inside(
        self, sighting: Sighting, tell: Callable[[Inside | LinkLost | RadioError], None]
    ) -> None:
        try:
            found: Inside | LinkLost | RadioError = await look_inside(
                self._air, self._farewell, sighting
            )
        except (LinkLost, RadioError) as problem:
            found = problem
        tell(found)

    # --- what the Kit page shows

    @property
    def trouble(self) -> str:
        """Why Bluetooth can't be used just now, and what to do; empty if it can."""
        return self._air.trouble

    def statuses(self) -> tuple[LinkStatus, ...]:
        """Return how each link stands, in the order in which the sensors were added."""
        keepers = [keeper for keeper, _ in self._keepers.values()]
        links = sum(keeper.tally.state in _LINKED for keeper in keepers)
        return tuple(self._status(keeper, links) for keeper in keepers)

    def _status(self, keeper: Keeper, links: int) -> LinkStatus:
        tally, air = keeper.tally, self._air
        missing_ns = tally.missing_since_ns
        missing_s = 0.0 if missing_ns is None else (self._now_ns() - missing_ns) / 1e9
        return LinkStatus(
            sensor=keeper.plan.sensor,
            state=tally.state,
            since_ns=tally.since_ns,
            missing_since_ns=missing_ns,
            rssi_dbm=tally.rssi_dbm,
            battery_pct=tally.battery_pct,
            battery_ns=tally.battery_ns,
            generation=tally.generation,
            counters=tally.counters,
            details=tally.details,
            candidates=tally.candidates,
            hint=hint(
                tally.state,
                missing_s=missing_s,
                links=links,
                cause=tally.cause,
                busy=air.busy,
                trouble=air.trouble,
                problem=tally.problem,
            ),
        )
