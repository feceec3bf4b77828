"""A recording played again: at its own pace, faster, or as fast as the machine can.

The session is fed the same events in the same order whatever the pace, so its snapshots are the
same too. Pace only decides when the next ones are let in.
"""

import asyncio
from collections.abc import Awaitable, Callable, Iterator
from typing import Final

from livemon.events import Event
from livemon.monitor.session import Session, Told
from livemon.monitor.snapshot import SessionSnapshot

#: How often the paced replay looks which events have become due: as often as the window redraws.
_STEP_S: Final = 0.05
#: Events let in without a pause when there is no pace: the loop stays answerable.
_BATCH: Final = 500
_NS_PER_S: Final = 1e9


class Replay:
    """Feeds a session from a recording.

    Args:
        session: fresh; told nothing yet.
        events: the recording's events, oldest first.
        speed: times real time; None is as fast as possible.
        now_s: a clock that only moves forward, in seconds.
        heard: takes each event before the session is fed it.
        told: takes what each event and tick changed.
        sleep: how to wait, in seconds.
    """

    def __init__(
        self,
        session: Session,
        events: Iterator[Event],
        *,
        speed: float | None,
        now_s: Callable[[], float],
        sleep: Callable[[float], Awaitable[None]] = asyncio.sleep,
        heard: Callable[[Event], None] = lambda _: None,
        told: Callable[[tuple[Told, ...]], None] = lambda _: None,
    ) -> None:
        self._session = session
        self._events = events
        self._speed = speed
        self._paused = False
        self._now_s = now_s
        self._sleep = sleep
        self._heard = heard
        self._told = told
        self.latest: SessionSnapshot | None = session.snapshot()

    @property
    def paused(self) -> bool:
        """Whether time stands still."""
        return self._paused

    @property
    def speed(self) -> float | None:
        """Times real time; None is as fast as possible."""
        return self._speed

    def set_paused(self, paused: bool) -> None:
        """Stop or go on; call it in the engine's thread."""
        self._paused = paused

    def set_speed(self, speed: float | None) -> None:
        """Change the pace; call it in the engine's thread."""
        self._speed = speed

    async def run(self) -> None:
        """Play to the end."""
        event = next(self._events, None)
        due_ns = 0.0
        before_s = self._now_s()
        while event is not None:
            now_s = self._now_s()
            if self._paused:
                before_s = now_s
                await self._sleep(_STEP_S)
                continue
            if self._speed is None:
                due_ns = float(event.t_ns)
                event = self._let_in(event, due_ns, _BATCH)
                due_ns = max(due_ns, float(self._session.t_ns))
                pause_s = 0.0
            else:
                due_ns += (now_s - before_s) * self._speed * _NS_PER_S
                event = self._let_in(event, due_ns, None)
                pause_s = _STEP_S
            before_s = now_s
            if event is not None:
                self._told(self._session.advance(min(int(due_ns), event.t_ns)))
            self.latest = self._session.snapshot()
            await self._sleep(pause_s)

    def _let_in(self, event: Event, due_ns: float, most: int | None) -> Event | None:
        """Feed what is due, or `most` events; return the first that is not fed yet."""
        following: Event | None = event
        fed = 0
        while following is not None and (fed < most if most else following.t_ns <= due_ns):
            self._heard(following)
            self._told(self._session.feed(following))
            following = next(self._events, None)
            fed += 1
        return following
