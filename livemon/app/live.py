"""A live session: sensors in, written down, fed to the core, ended in good order.

Whatever comes is written down before anything is made of it, so what is seen can be replayed. Time
is the session's own: nanoseconds since it began, on a clock that only moves forward.
"""

import asyncio
from collections.abc import Callable, Iterable
from contextlib import AbstractContextManager
from dataclasses import replace
from itertools import count
from random import Random
from typing import Final

from livemon.app.live_ends import Inflow, Recorder
from livemon.app.trainings import Trainings, Whom
from livemon.app.warned import warning_lines
from livemon.decode.battery import BATTERY_LEVEL
from livemon.decode.presentation_format import PRESENTATION_FORMAT
from livemon.errors import RadioError, UsageError
from livemon.events import End, Event, Gap, Head, Mark, Notification
from livemon.link.clocks import Clocks, watch_clocks
from livemon.link.identity import Registry
from livemon.link.look import check_radio
from livemon.link.plan import Plan
from livemon.link.radio import Radio
from livemon.link.status import LinkStatus
from livemon.link.supervision import Supervision
from livemon.monitor.marks import Details, withdrawal
from livemon.monitor.plan import Plan as TrainingPlan
from livemon.monitor.session import Difference, Session, Told
from livemon.monitor.snapshot import SessionSnapshot
from livemon.record.side_lines import SideLine
from livemon.record.warning_lines import Happened, WarningLine

#: How often the newest snapshot is handed out, and the ticks looked after.
_STEP_S: Final = 0.05
#: With relays: a fifth of the tenth of a second that a reading may take to the screen.
_INFLOW_STEP_S: Final = 0.02
_NS_PER_S: Final = 1e9
#: Read on a link before the sensor has measured anything.
_SAY_NOTHING_YET: Final = frozenset({BATTERY_LEVEL, PRESENTATION_FORMAT})
#: The journal wants to be looked after about once a second.
_JOURNAL_S: Final = 1.0


class Live:
    """Reads sensors until it is cancelled.

    Args:
        head: who is there and what they wear.
        plans: how to read each sensor.
        radio: opens the radio inside the event loop; None uses no Bluetooth at all.
        registry: what is known of the sensors, addresses among it.
        now_ns: the session's clock.
        journal: writes everything down; None records nothing.
        host: id of this computer.
        on_learned: takes the registry when an address was learned.
        clocks: looks at all clocks, to notice that the computer slept.
        each_tick: as for `Session`.
        give_up_s: end with an error if Bluetooth can't be used at the start, or if nothing has
            come from any sensor by then; None waits for ever, as a window may.
        training: plans to train by.
        services: that sensors may offer which are not among `plans` yet.
        inflow: what relays send.
        told: takes what each event and tick changed.
    """

    def __init__(
        self,
        head: Head,
        plans: tuple[Plan, ...],
        radio: Callable[[], AbstractContextManager[Radio]] | None,
        registry: Registry,
        *,
        host: str,
        now_ns: Callable[[], int],
        chance: Random,
        journal: Recorder | None = None,
        on_learned: Callable[[Registry], None] = lambda _: None,
        clocks: Callable[[], Clocks],
        each_tick: Callable[[Session], None] | None = None,
        give_up_s: float | None = None,
        training: Trainings | None = None,
        services: frozenset[str] = frozenset(),
        inflow: Inflow | None = None,
        told: Callable[[tuple[Told, ...]], None] = lambda _: None,
    ) -> None:
        self._plans = plans
        self._radio = radio
        self._registry = registry
        self._host = host
        self._now_ns = now_ns
        self._chance = chance
        self._clocks = clocks
        self._journal = journal
        self._on_learned = on_learned
        self._session = Session(head, each_tick=each_tick)
        self._give_up_s = give_up_s
        self._training = training
        self._anything_came = False
        self._marks: list[list[Mark]] = []  #: made by hand, together what was made together
        self._numbers = count(1)
        self._changed = False
        self._services = services
        self._inflow = inflow
        self._told = told
        self._supervision: Supervision | None = None
        self._steps: list[Callable[[], None]] = []
        self.latest: SessionSnapshot | None = self._session.snapshot()

    def statuses(self) -> tuple[LinkStatus, ...]:
        """Return how each link stands; call it in the engine's thread."""
        return () if self._supervision is None else self._supervision.statuses()

    def on_step(self, step: Callable[[], None]) -> None:
        """Have `step` called again and again while sensors are looked after."""
        self._steps.append(step)

    @property
    def supervision(self) -> Supervision:
        """All sensors; to be asked for in the engine's thread, while it runs.

        Raises:
            UsageError: it does not run.
        """
        if self._supervision is None:
            raise UsageError("Bluetooth has not been started.")
        return self._supervision

    @property
    def differences(self) -> tuple[Difference, ...]:
        """Where sensors' own descriptions and their adapters differ; any thread may ask."""
        return self._session.differences

    @property
    def trouble(self) -> str:
        """Why Bluetooth can't be used just now; empty if it can."""
        return "" if self._supervision is None else self._supervision.trouble

    def mark(self, athlete: str | None, kind: str, details: Details) -> None:
        """Write a mark down as of now, unless it is what a plan waits for."""
        self.mark_several((athlete,), kind, details)

    def mark_several(self, athletes: tuple[Whom, ...], kind: str, details: Details) -> None:
        """Write the same mark down for each of them; one undo takes them back."""
        left = [whom for athlete in athletes for whom in self._not_planned(athlete, kind)]
        made = [
            Mark(self._now_ns(), f"m{next(self._numbers)}", whom, kind, details) for whom in left
        ]
        if made:
            self._marks.append(made)
        for mark in made:
            self.emit(mark)

    def choose_plan(self, whom: Whom, plan: TrainingPlan | None) -> None:
        """Train by a plan from the next bout on, everybody or one athlete; None for none."""
        if self._training is not None:
            now_ns = self._now_ns()
            self._training.choose(whom, plan, now_ns / _NS_PER_S)
            self._follow_plan(now_ns)

    @property
    def names(self) -> dict[str, str]:
        """What the athletes are called, by id."""
        lanes = () if self.latest is None else self.latest.lanes
        return {lane.athlete: lane.name or lane.athlete for lane in lanes}

    def _not_planned(self, athlete: Whom, kind: str) -> tuple[Whom, ...]:
        """Return for whom a mark is one of its own, and no word to a plan."""
        if self._training is None or self.latest is None:
            return (athlete,)
        now_ns = self._now_ns()
        roster = tuple(lane.athlete for lane in self.latest.lanes)
        left = self._training.take(athlete, kind, now_ns / _NS_PER_S, roster)
        if left != (athlete,):
            self._follow_plan(now_ns)
        return left

    def undo(self) -> None:
        """Take the last mark back, of all for whom it was made."""
        for original in self._marks.pop() if self._marks else ():
            name = f"m{next(self._numbers)}"
            self.emit(withdrawal(original, mark=name, t_ns=self._now_ns()))

    def emit(self, event: Event) -> None:
        """Take the next event: write it down, then feed it."""
        if event.t_ns < self._session.t_ns:
            # Stamped before a tick that was fed meanwhile; the file and the core keep one order.
            event = replace(event, t_ns=self._session.t_ns)
        if self._journal is not None:
            self._journal.append(event, now_s=event.t_ns / _NS_PER_S)
        self._tell(self._session.feed(event))
        self._changed = True
        if isinstance(event, Notification) and event.characteristic not in _SAY_NOTHING_YET:
            self._anything_came = True

    def handled(self, athlete: str, what: Happened, for_s: float | None = None) -> None:
        """Write down how somebody dealt with the warnings of `athlete`."""
        now_ns = self._session.t_ns
        until_ns = None if for_s is None else now_ns + round(for_s * _NS_PER_S)
        self._note([WarningLine(now_ns, what, athlete, until_ns=until_ns)])

    def _note(self, lines: Iterable[SideLine]) -> None:
        """Write lines down that are no events."""
        if self._journal is not None:
            for line in lines:
                self._journal.note(line, now_s=self._session.t_ns / _NS_PER_S)

    def _tell(self, told: tuple[Told, ...]) -> None:
        self._note(warning_lines(told))
        self._told(told)

    async def run(self) -> None:
        """Read until cancelled; then set the sensors free and close the recording.

        Raises:
            RadioError: nothing can be had from Bluetooth; see `give_up_s`.
            LivemonError: nothing more will ever come from relays.
        """
        if self._radio is None:
            await self._watch()
            return
        with self._radio() as radio:
            if self._give_up_s is not None:
                await check_radio(radio)
            await self._supervise(radio)

    async def _supervise(self, radio: Radio) -> None:
        self._supervision = Supervision(
            radio,
            self.emit,
            self._registry,
            self._host,
            now_ns=self._now_ns,
            chance=self._chance,
            services=self._services | frozenset().union(*(plan.services for plan in self._plans)),
            on_learned=self._on_learned,
        )
        self._supervision.start()
        for plan in self._plans:
            self._supervision.keep(plan)
        await self._watch()

    async def _watch(self) -> None:
        """Let time pass until cancelled, then put everything in order."""
        watching = asyncio.create_task(watch_clocks(self._clocks, self._slept), name="clocks")
        try:
            await self._keep_time()
        finally:
            watching.cancel()
            if self._supervision is not None:
                await self._supervision.stop()
                self._on_learned(self._supervision.registry)  # with the batteries as last read
            self.emit(End(self._now_ns()))
            self.latest = self._session.snapshot()
            if self._journal is not None:
                self._journal.close(now_s=self._now_ns() / _NS_PER_S)

    def _slept(self, gap: Gap) -> None:
        """Nobody was watching: say so in the recording, and open all links afresh."""
        self.emit(gap)
        if self._supervision is not None and gap.missed_ns:
            self._supervision.begin_again(gap.reason)

    async def _keep_time(self) -> None:
        """Let the ticks fall due, hand out snapshots, look after the journal."""
        journal_due_s = 0.0
        while True:
            now_ns = self._now_ns()
            before_ns = self._session.t_ns
            self._tell(self._session.advance(self._take_inflow(now_ns)))
            self._follow_plan(now_ns)
            if self._changed or self._session.t_ns != before_ns:
                self.latest = self._session.snapshot()
                self._changed = False
            for step in self._steps:
                step()
            if self._journal is not None and now_ns / _NS_PER_S >= journal_due_s:
                self._journal.tick(now_s=now_ns / _NS_PER_S)
                journal_due_s = now_ns / _NS_PER_S + _JOURNAL_S
            if not self._anything_came and self._give_up_s is not None:
                self._look_at_the_time(now_ns / _NS_PER_S, self._give_up_s)
            await asyncio.sleep(_STEP_S if self._inflow is None else _INFLOW_STEP_S)

    def _take_inflow(self, now_ns: int) -> int:
        """Feed what relays sent; return the time up to which ticks may fall due."""
        if self._inflow is None:
            return now_ns
        for event in self._inflow.due(now_ns):
            self.emit(event)
        return self._inflow.settled_ns(now_ns)

    def _follow_plan(self, now_ns: int) -> None:
        """Make the marks that the plan has due."""
        if self._training is None or self.latest is None:
            return
        for whom, due in self._training.due(now_ns / _NS_PER_S, self.latest.lanes):
            at_ns = round(due.t_s * _NS_PER_S)
            late_ns = at_ns if at_ns < now_ns else None
            name = f"m{next(self._numbers)}"
            self.emit(Mark(now_ns, name, whom, due.kind.value, due.details, late_ns))

    def _look_at_the_time(self, now_s: float, give_up_s: float) -> None:
        if now_s < give_up_s:
            return
        reasons = " ".join(
            f"{status.sensor}: {status.hint or status.state.value}." for status in self.statuses()
        )
        raise RadioError(f"nothing came from any sensor in {give_up_s:g} s. {reasons}")
