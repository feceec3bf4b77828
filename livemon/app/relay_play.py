"""A recording played to a recorder as if it happened now, to try a relay without sensors."""

import asyncio
from collections.abc import Awaitable, Callable, Iterator
from typing import Final

from livemon.app.live_ends import Recorder
from livemon.events import Event
from livemon.monitor.snapshot import SessionSnapshot

_NS_PER_S: Final = 1e9
_JOURNAL_S: Final = 1.0


class Played:
    """Fulfils `Program`: hands the events over at their times."""

    latest: SessionSnapshot | None = None

    def __init__(
        self,
        events: Iterator[Event],
        recorder: Recorder,
        *,
        now_ns: Callable[[], int],
        sleep: Callable[[float], Awaitable[None]] = asyncio.sleep,
    ) -> None:
        self._events = events
        self._recorder = recorder
        self._now_ns = now_ns
        self._sleep = sleep

    async def run(self) -> None:
        """Play to the end; then close the recording."""
        tick_s = 0.0
        try:
            for event in self._events:
                while (wait_ns := event.t_ns - self._now_ns()) > 0:
                    await self._sleep(min(wait_ns / _NS_PER_S, _JOURNAL_S))
                    if self._now_s >= tick_s + _JOURNAL_S:
                        tick_s = self._now_s
                        self._recorder.tick(now_s=tick_s)
                self._recorder.append(event, now_s=self._now_s)
        finally:
            self._recorder.close(now_s=self._now_s)

    @property
    def _now_s(self) -> float:
        return self._now_ns() / _NS_PER_S
