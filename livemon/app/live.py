"""A live session: sensors in, written down, fed to the core, ended in good order.

Whatever comes is written down before anything is made of it, so what is seen can be replayed. Time
is the session's own: nanoseconds since it began, on a clock that only moves forward.
"""

import asyncio
from collections.abc import Callable
from dataclasses import replace
from itertools import count
from random import Random
from typing import Final, Protocol

from livemon.events import End, Event, Head, Mark
from livemon.link.identity import Registry
from livemon.link.plan import Plan
from livemon.link.radio import Radio
from livemon.link.status import LinkStatus
from livemon.link.supervision import Supervision
from livemon.monitor.marks import Details, withdrawal
from livemon.monitor.session import Session
from livemon.monitor.snapshot import SessionSnapshot

#: How often the newest snapshot is handed out, and the ticks looked after.
_STEP_S: Final = 0.05
_NS_PER_S: Final = 1e9
#: The journal wants to be looked after about once a second.
_JOURNAL_S: Final = 1.0


class Recorder(Protocol):
    """What a live session needs of a journal."""

    def append(self, event: Event, *, now_s: float) -> None:
        """Write `event` down."""

    def tick(self, *, now_s: float) -> None:
        """Look after the file; called each second."""

    def close(self, *, now_s: float) -> object:
        """Put everything away."""


class Live:
    """Reads sensors until it is cancelled.

    Args:
        head: who is there and what they wear.
        plans: how to read each sensor.
        registry: what is known of the sensors, addresses among it.
        now_ns: the session's clock.
        journal: writes everything down; None records nothing.
        host: id of this computer.
        on_learned: takes the registry when an address was learned.
        each_tick: as for `Session`.
    """

    def __init__(
        self,
        head: Head,
        plans: tuple[Plan, ...],
        radio: Radio,
        registry: Registry,
        *,
        host: str,
        now_ns: Callable[[], int],
        chance: Random,
        journal: Recorder | None = None,
        on_learned: Callable[[Registry], None] = lambda _: None,
        each_tick: Callable[[Session], None] | None = None,
    ) -> None:
        self._plans = plans
        self._radio = radio
        self._registry = registry
        self._host = host
        self._now_ns = now_ns
        self._chance = chance
        self._journal = journal
        self._on_learned = on_learned
        self._session = Session(head, each_tick=each_tick)
        self._marks: list[Mark] = []
        self._numbers = count(1)
        self._changed = False
        self._supervision: Supervision | None = None
        self.latest: SessionSnapshot | None = self._session.snapshot()

    def statuses(self) -> tuple[LinkStatus, ...]:
        """Return how each link stands; call it in the engine's thread."""
        return () if self._supervision is None else self._supervision.statuses()

    @property
    def trouble(self) -> str:
        """Why Bluetooth can't be used just now; empty if it can."""
        return "" if self._supervision is None else self._supervision.trouble

    def mark(self, athlete: str | None, kind: str, details: Details) -> None:
        """Write a mark down as of now."""
        mark = Mark(self._now_ns(), f"m{next(self._numbers)}", athlete, kind, details)
        self._marks.append(mark)
        self.emit(mark)

    def undo(self) -> None:
        """Take the last mark back."""
        if self._marks:
            original = self._marks.pop()
            name = f"m{next(self._numbers)}"
            self.emit(withdrawal(original, mark=name, t_ns=self._now_ns()))

    def emit(self, event: Event) -> None:
        """Take the next event: write it down, then feed it."""
        if event.t_ns < self._session.t_ns:
            # Stamped before a tick that was fed meanwhile; the file and the core keep one order.
            event = replace(event, t_ns=self._session.t_ns)
        if self._journal is not None:
            self._journal.append(event, now_s=event.t_ns / _NS_PER_S)
        self._session.feed(event)
        self._changed = True

    async def run(self) -> None:
        """Read until cancelled; then set the sensors free and close the recording."""
        self._supervision = Supervision(
            self._radio,
            self.emit,
            self._registry,
            self._host,
            now_ns=self._now_ns,
            chance=self._chance,
            services=frozenset(c.service for p in self._plans for c in p.channels if c.service),
            on_learned=self._on_learned,
        )
        self._supervision.start()
        for plan in self._plans:
            self._supervision.keep(plan)
        try:
            await self._keep_time()
        finally:
            await self._supervision.stop()
            self.emit(End(self._now_ns()))
            self.latest = self._session.snapshot()
            if self._journal is not None:
                self._journal.close(now_s=self._now_ns() / _NS_PER_S)

    async def _keep_time(self) -> None:
        """Let the ticks fall due, hand out snapshots, look after the journal."""
        journal_due_s = 0.0
        while True:
            now_ns = self._now_ns()
            before_ns = self._session.t_ns
            self._session.advance(now_ns)
            if self._changed or self._session.t_ns != before_ns:
                self.latest = self._session.snapshot()
                self._changed = False
            if self._journal is not None and now_ns / _NS_PER_S >= journal_due_s:
                self._journal.tick(now_s=now_ns / _NS_PER_S)
                journal_due_s = now_ns / _NS_PER_S + _JOURNAL_S
            await asyncio.sleep(_STEP_S)
