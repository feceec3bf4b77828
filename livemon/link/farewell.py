"""End links without being held up by them, also when we are being stopped.

Ending a link may stall. So each ending is a task of its own with its own limit: whoever waits for
it may be cancelled, even again and again, and the sensor is still set free.
"""

import asyncio
import logging
from typing import Final

from livemon.errors import LinkLost, RadioError
from livemon.link.bounded import TookTooLong, bounded
from livemon.link.radio import Link

_log = logging.getLogger(__name__)

#: A person who closes the window waits for this; a link that isn't ended by then is left to the
#: system, and taken over at the next start.
WITHIN_S: Final = 5.0


class Farewell:
    """All links that are being ended."""

    def __init__(self) -> None:
        self._ending: set[asyncio.Task[None]] = set()

    async def close(self, link: Link) -> None:
        """End `link`; return when that is done or has taken too long."""
        task = asyncio.create_task(_end(link))
        self._ending.add(task)
        task.add_done_callback(self._ending.discard)
        await asyncio.wait({task})

    async def finish(self) -> None:
        """Wait until all endings are done or have taken too long."""
        if self._ending:
            await asyncio.wait(self._ending)


async def _end(link: Link) -> None:
    try:
        await bounded(link.close(), WITHIN_S)
    except (LinkLost, RadioError, TookTooLong) as error:
        _log.info("ending a link: %s", str(error) or "took too long")
