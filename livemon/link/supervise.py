"""Keep one sensor linked: find it, open a link, pass everything on, and begin again when it ends.

Each link is a new one. Time, chance and the radio are handed in, so a test runs a day of dropouts
in a moment. Sensors know nothing of one another, and the failure of one never touches another.
"""

import asyncio
import logging
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from random import Random
from typing import Final, NoReturn

from livemon.errors import LinkLost, RadioError
from livemon.events import Event, LinkDown, LinkUp
from livemon.link.airtime import AirTime
from livemon.link.backoff import backoff, opening_times
from livemon.link.details import read_serial
from livemon.link.farewell import Farewell
from livemon.link.finder import Finder
from livemon.link.identity import Found
from livemon.link.one_link import OneLink
from livemon.link.plan import Plan
from livemon.link.radio import Link, Opening
from livemon.link.status import Cause, LinkState
from livemon.link.tally import Tally
from livemon.link.trouble import CharacteristicMissing, SensorNotFound, SensorRefuses

_log = logging.getLogger(__name__)

#: After a mistake of our own: rare, and hammering would hide it.
_AFTER_MISTAKE_S: Final = 5.0
#: A person has to read and answer a question of the system's, once.
_PAIRING_S: Final = 60.0


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What all sensors share."""

    air: AirTime
    finder: Finder
    farewell: Farewell
    emit: Callable[[Event], None]
    now_ns: Callable[[], int]
    chance: Random


class Keeper:
    """Keeps one sensor linked until its `run` is cancelled."""

    def __init__(self, plan: Plan, shared: Surroundings) -> None:
        self.plan = plan
        self.tally = Tally(shared.now_ns())
        self._shared = shared
        self._again = asyncio.Event()
        self._one_link: OneLink | None = None
        self._fresh_services = False
        self._new_waits()

    def retry(self) -> None:
        """Try again at once, also after a refusal."""
        self._again.set()

    def begin_again(self, reason: str) -> None:
        """Give up the present link, if there is one, and open a new one."""
        if self._one_link is not None:
            self._one_link.end(reason)
        self._again.set()

    async def run(self) -> NoReturn:
        """Keep the sensor linked."""
        try:
            while True:
                await self._rest(await self._attempt())
        finally:
            self._to(LinkState.STOPPED)

    async def _attempt(self) -> float | None:
        """Live through one link; return how long to rest then, None until a person acts."""
        notified = self.tally.counters.notifications
        try:
            await self._link_once()
        except SensorRefuses as refusal:
            self.tally.failed(Cause.REFUSED, str(refusal))
            return None
        except SensorNotFound as missing:
            self.tally.failed(Cause.NOT_FOUND, str(missing))
        except CharacteristicMissing as missing:
            self.tally.failed(Cause.LOST, str(missing))
            self._fresh_services = not self._fresh_services
        except (LinkLost, RadioError) as error:
            self.tally.failed(Cause.LOST, str(error))
        except Exception as mistake:  # noqa: BLE001 - not even ours may touch another sensor
            _log.exception("a mistake in livemon while reading %s", self.plan.sensor)
            self.tally.failed(Cause.MISTAKE, str(mistake))
            return _AFTER_MISTAKE_S
        if self.tally.counters.notifications > notified:
            self._new_waits()  # data came: the next wait is a short one
        return next(self._waits)

    async def _rest(self, wait_s: float | None) -> None:
        self._to(LinkState.REFUSED if wait_s is None else LinkState.WAITING)
        self._again.clear()
        try:
            async with asyncio.timeout(wait_s):
                await self._again.wait()
        except TimeoutError:
            return

    async def _link_once(self) -> None:
        """Find the sensor, open a link and stay until it ends.

        Raises:
            LinkLost: in the end, always; it says why.
            RadioError: Bluetooth as a whole can't be used.
        """
        shared, tally = self._shared, self.tally
        with shared.air.listening():
            found = await shared.finder.find(self.plan.sensor, tally)
        self._to(LinkState.OPENING)
        tally.rssi_dbm = found.sighting.rssi_dbm
        one_link = OneLink(self.plan, tally, shared.emit, shared.now_ns)
        link = await self._open(found, one_link)
        self._one_link = one_link
        try:
            await self._live(link, found, one_link)
        finally:
            self._one_link = None

    async def _open(self, found: Found, one_link: OneLink) -> Link:
        """Open a link, and make sure that a device found by its name is no other one."""
        shared = self._shared
        within_s = _PAIRING_S if self.plan.pair else next(self._times)
        opening = Opening(within_s, self.plan.pair, self._fresh_services)
        try:
            link = await shared.air.open_link(
                found.sighting, opening, lambda: one_link.end("the sensor ended the link")
            )
        except (LinkLost, RadioError):
            self.tally.count("failed")
            raise
        checked = False
        try:
            if shared.finder.wants_serial(self.plan.sensor, found):
                shared.finder.check(self.plan.sensor, found, await read_serial(link))
            checked = True
        finally:
            if not checked:
                await shared.farewell.close(link)
        return link

    async def _live(self, link: Link, found: Found, one_link: OneLink) -> None:
        """Pass everything on between a LinkUp and a LinkDown."""
        shared, tally, sensor = self._shared, self.tally, self.plan.sensor
        tally.begin_link(shared.now_ns())
        shared.emit(LinkUp(shared.now_ns(), sensor))
        reason = "stopped"
        try:
            await one_link.subscribe(link)
            shared.finder.learn(sensor, found.sighting.address)
            await one_link.stay(link)
        except (LinkLost, RadioError) as lost:
            reason = str(lost)
            tally.count("lost")
            raise
        finally:
            try:
                await shared.farewell.close(link)  # what comes meanwhile is still taken
            finally:
                one_link.give_up()
                shared.emit(LinkDown(shared.now_ns(), sensor, reason))

    def _to(self, state: LinkState) -> None:
        self.tally.to(state, self._shared.now_ns())

    def _new_waits(self) -> None:
        self._waits: Iterator[float] = backoff(self._shared.chance)
        self._times = opening_times()
