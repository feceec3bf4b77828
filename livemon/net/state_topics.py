"""At the hub: publish how each athlete is, for other programs, and clear it away at the end.

    livemon/1/<group>/hub/athletes/<athlete>   retained, once a second
    livemon/1/<group>/hub/there                retained, and the hub's will

A hub that was killed leaves its last words behind: whoever reads them looks at their `utc_ms`, and
at `there`.
"""

import asyncio
from collections.abc import Callable
from contextlib import suppress
from typing import Final

from livemon.monitor.snapshot import SessionSnapshot
from livemon.net.athlete_state import athlete_state
from livemon.net.broker import Connection, Will
from livemon.net.topics import hub_topic
from livemon.net.trouble import BrokerLost

_EVERY_S: Final = 1.0
#: Whoever closes the program waits this long at most for the last words to be cleared away.
_FAREWELL_S: Final = 1.0
_THERE: Final = b'{"hub":1,"there":true}'
_GONE: Final = b'{"hub":1,"there":false}'


class StateTopics:
    """Publishes the newest snapshot.

    Args:
        latest: the newest snapshot; from any thread.
        utc_ms: the wall clock.
        names: whether athletes' names are told.
    """

    def __init__(
        self,
        group: str,
        latest: Callable[[], SessionSnapshot | None],
        *,
        utc_ms: Callable[[], int],
        names: bool = False,
    ) -> None:
        self._group = group
        self._latest = latest
        self._utc_ms = utc_ms
        self._names = names
        self._told: dict[str, None] = {}

    @property
    def will(self) -> Will:
        """What the broker shall say when we are gone without a word."""
        return Will(hub_topic(self._group, "there"), _GONE)

    async def work(self, connection: Connection) -> None:
        """Publish once a second until the connection ends.

        Raises:
            BrokerLost: in the end, always.
        """
        try:
            await self._say(connection, hub_topic(self._group, "there"), _THERE)
            while True:
                await self._publish(connection)
                await asyncio.sleep(_EVERY_S)
        except asyncio.CancelledError:
            with suppress(BrokerLost, TimeoutError):
                async with asyncio.timeout(_FAREWELL_S):
                    await self._clear(connection)
            raise

    async def _publish(self, connection: Connection) -> None:
        snapshot = self._latest()
        if snapshot is None:
            return
        utc_ms = self._utc_ms()
        for lane in snapshot.lanes:
            state = athlete_state(lane, t_s=snapshot.t_s, utc_ms=utc_ms, name=self._names)
            self._told[lane.athlete] = None
            await self._say(connection, self._topic(lane.athlete), state)

    async def _clear(self, connection: Connection) -> None:
        """Take the retained words away: an empty payload deletes them (MQTT 3.1.1, 3.3.1.3)."""
        for athlete in self._told:
            await self._say(connection, self._topic(athlete), b"")
        await self._say(connection, hub_topic(self._group, "there"), _GONE)

    async def _say(self, connection: Connection, topic: str, payload: bytes) -> None:
        await connection.publish(topic, payload, qos=1, retain=True)

    def _topic(self, athlete: str) -> str:
        return hub_topic(self._group, "athletes", athlete)
