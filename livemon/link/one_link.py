"""Live through one link: subscribe, pass on what comes, watch its age, until it ends.

The age of the data is what counts: a link that says nothing for too long is over, whatever the
system says of it. A notification is emitted, and so recorded, exactly once: copies that the system
makes of a packet, and what still comes after the link was given up, are dropped and counted here,
before the recording.
"""

import asyncio
from collections.abc import Callable
from functools import partial
from typing import Final, NoReturn

from livemon.decode.battery import BATTERY_LEVEL
from livemon.decode.presentation_format import PRESENTATION_FORMAT
from livemon.errors import LinkLost
from livemon.events import Event, Notification
from livemon.link.details import battery_pct, read_details, read_format, read_if_offered
from livemon.link.doubles import DoubleGuard
from livemon.link.plan import Plan
from livemon.link.radio import Channel, Link
from livemon.link.silence import Silence, silence
from livemon.link.status import LinkState
from livemon.link.tally import Tally

#: The charge changes by the hour; asking costs a packet.
_BATTERY_EVERY_S: Final = 300.0


class OneLink:
    """The life of one link.

    Attributes:
        ended: set to the reason once the link is over, by the system's word or by ours. That word
            is a hint: it may come late, twice or never.
    """

    def __init__(
        self, plan: Plan, tally: Tally, emit: Callable[[Event], None], now_ns: Callable[[], int]
    ) -> None:
        self.ended: asyncio.Future[str] = asyncio.get_running_loop().create_future()
        self._plan = plan
        self._tally = tally
        self._emit = emit
        self._now_ns = now_ns
        self._doubles = DoubleGuard(plan.doubles_ns)
        self._given_up = False
        self._subscribed: tuple[Channel, ...] = ()

    def end(self, reason: str) -> None:
        """Say that the link is over, or shall be; only the first word counts."""
        if not self.ended.done():
            self.ended.set_result(reason)

    def give_up(self) -> None:
        """Take nothing more from this link."""
        self._given_up = True

    async def subscribe(self, link: Link) -> None:
        """Do what the plan says for the start of a link."""
        self._subscribed = self._plan.chosen(link.characteristics)
        for channel in self._subscribed:
            receive = partial(self._receive, channel.characteristic)
            await link.subscribe(channel, receive, acquire=self._plan.acquire)
        for write in self._plan.writes:
            await link.write(write.characteristic, write.octets, response=write.response)

    async def stay(self, link: Link) -> NoReturn:
        """Watch the data's age, and read the battery now and again.

        Raises:
            LinkLost: in the end, always; it says why.
        """
        reading = asyncio.create_task(self._read_details(link))
        try:
            await self._watch()
        finally:
            reading.cancel()
            await asyncio.wait({reading})

    async def _watch(self) -> NoReturn:
        patience, tally = self._plan.patience, self._tally
        while True:
            now_ns, heard_ns = self._now_ns(), tally.heard_ns or 0
            step = silence(now_ns, heard_ns, patience)
            if step is Silence.DEAD:
                raise LinkLost(f"linked, but nothing came for {(now_ns - heard_ns) / 1e9:.0f} s")
            if step is Silence.STALE:
                tally.to(LinkState.SILENT, now_ns)
            stale = step is Silence.STALE
            limit_ns = patience.dead_after_ns if stale else patience.stale_after_ns
            await asyncio.wait({self.ended}, timeout=(heard_ns + limit_ns - now_ns) / 1e9)
            if self.ended.done():
                raise LinkLost(self.ended.result())

    def _receive(self, characteristic: str, t_ns: int, payload: bytes) -> None:
        """Pass on one notification. The radio calls this; it is quick and does not raise."""
        if self._given_up:
            self._tally.count("strays")
        elif self._doubles.is_double(t_ns, characteristic, payload):
            self._tally.count("doubles")
        else:
            self._tally.heard(t_ns)
            self._emit(Notification(t_ns, self._plan.sensor, characteristic, payload))

    async def _read_details(self, link: Link) -> None:
        """Read what the sensor says of itself, then its battery for as long as the link lasts."""
        self._tally.details = await read_details(link)
        if self._plan.described is not None:
            said = await read_format(link, self._plan.described)
            if said is not None:
                self._emit(
                    Notification(self._now_ns(), self._plan.sensor, PRESENTATION_FORMAT, said)
                )
        if any(channel.characteristic == BATTERY_LEVEL for channel in self._subscribed):
            return
        while True:
            payload = await read_if_offered(link, BATTERY_LEVEL)
            if payload is not None:
                self._tally.read_battery(battery_pct(payload), self._now_ns())
                self._emit(Notification(self._now_ns(), self._plan.sensor, BATTERY_LEVEL, payload))
            await asyncio.sleep(_BATTERY_EVERY_S)
