"""Share one adapter's time: scan while somebody is missing, never while a link is being opened.

An adapter does one thing at a time, and each scan costs packets of the links that stand. So there
is one lock, one scan for everybody who looks for something, and none when all are found.
"""

import asyncio
import logging
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Final, NoReturn

from livemon.errors import LinkLost, RadioError
from livemon.link.radio import Link, Opening, Radio, Sighting
from livemon.link.trouble import RadioBusy

_log = logging.getLogger(__name__)

#: After a scan could not start. Bluetooth may be switched on, or the other program done, any time.
_RETRY_S: Final = 1.0
#: When one of several missing sensors is heard, the scan goes on this long to hear others, because
#: each start of a scan costs time; a whole class that dropped is back sooner so.
_GATHER_S: Final = 0.3
#: How often to ask again for links that an earlier run left open; asking costs no air.
_ASK_HELD_EVERY: Final = 3


#: What is missing must come back within seconds. A scan lasts so long at most: it hears two
#: advertisements at the longest usual interval (1.285 s).
_WINDOW_S: Final = 3.0
#: Between scans: the links that stand keep two fifths of the time for themselves even if
#: somebody's sensor never comes.
_PAUSE_S: Final = 2.0


class AirTime:
    """One adapter's time.

    Attributes:
        trouble: why Bluetooth can't be used just now; empty if it can.
        busy: the adapter refused because it does something else.
    """

    def __init__(
        self, radio: Radio, on_sighting: Callable[[Sighting], None], *, services: frozenset[str]
    ) -> None:
        self.trouble = ""
        self.busy = False
        self._radio = radio
        self._on_sighting = on_sighting
        self._services = services
        self._lock = asyncio.Lock()
        self._listeners = 0
        self._openers = 0
        self._wanted = asyncio.Event()  # somebody listens
        self._all_found = asyncio.Event()  # nobody listens
        self._hurry = asyncio.Event()  # somebody new listens: no pause now
        self._make_way = asyncio.Event()  # the scan has to end

    @contextmanager
    def listening(self) -> Iterator[None]:
        """Keep the scan going as long as somebody is inside."""
        self._listeners += 1
        self._wanted.set()
        self._all_found.clear()
        self._hurry.set()
        try:
            yield
        finally:
            self._listeners -= 1
            if not self._listeners:
                self._wanted.clear()
                self._all_found.set()
                self._make_way.set()

    async def open_link(
        self, sighting: Sighting, opening: Opening, on_closed: Callable[[], None]
    ) -> Link:
        """Open a link as soon as the adapter is free; a scan makes way."""
        self._openers += 1
        self._make_way.set()
        try:
            async with self._lock:
                return await self._radio.open_link(sighting, opening, on_closed)
        finally:
            self._openers -= 1

    def refresh(self) -> None:
        """End the scan that is going on; the next one is a new one."""
        self._make_way.set()

    async def run(self) -> NoReturn:
        """Scan whenever somebody listens, until cancelled."""
        windows = 0
        while True:
            await self._wanted.wait()
            try:
                async with self._lock:
                    whole = await self._window(ask_held=windows % _ASK_HELD_EVERY == 0)
            except RadioError as error:
                self.trouble = str(error)
                await asyncio.sleep(_RETRY_S)
            except LinkLost as error:
                self.busy = isinstance(error, RadioBusy)
                _log.info("scan: %s", error)
                await asyncio.sleep(_RETRY_S)
            except Exception:  # noqa: BLE001 - without the scan no sensor would ever come back
                _log.exception("a mistake in livemon while scanning")
                await asyncio.sleep(_RETRY_S)
            else:
                windows += 1
                if whole:
                    await _passes(self._hurry, _PAUSE_S)

    async def _window(self, *, ask_held: bool) -> bool:
        """Scan once; say whether nothing cut it short."""
        if self._openers > 0:
            return False  # they queue behind us
        if ask_held:
            await self._ask_held()
        self._make_way.clear()
        self._hurry.clear()
        if not self._listeners or self._openers > 0:
            return False
        async with self._radio.scanning(self._on_sighting):
            self.trouble, self.busy = "", False
            whole = await _passes(self._make_way, _WINDOW_S)
            if self._openers > 0:
                await _passes(self._all_found, _GATHER_S)
            return whole

    async def _ask_held(self) -> None:
        """Take links that are held as sightings; a system that can't tell is no reason to stop."""
        try:
            held = await self._radio.held(self._services)
        except (LinkLost, RadioError) as error:
            _log.info("open links: %s", error)
            return
        for sighting in held:
            self._on_sighting(sighting)


async def _passes(event: asyncio.Event, at_most_s: float) -> bool:
    """Wait for `event`; say whether the time passed without it."""
    try:
        async with asyncio.timeout(at_most_s):
            await event.wait()
    except TimeoutError:
        return True
    return False
