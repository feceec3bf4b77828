"""A live session: sensors in, written down, fed to the core, ended in good order.

Whatever comes is written down before anything is made of it, so what is seen can be replayed. Time
is the session's own: nanoseconds since it began, on a clock that only moves forward.
"""

import asyncio
from collections.abc import Callable
from contextlib import AbstractContextManager
from random import Random
from typing import Final

from livemon.app.live_ends import Inflow, Recorder
from livemon.app.live_marks import LiveMarks
from livemon.app.trainings import Trainings, Whom
from livemon.app.written_session import WrittenSession
from livemon.decode.battery import BATTERY_LEVEL
from livemon.decode.presentation_format import PRESENTATION_FORMAT
from livemon.errors import RadioError, UsageError
from livemon.events import End, Event, Gap, Head, Notification
from livemon.link.clocks import Clocks, watch_clocks
from livemon.link.identity import Registry
from livemon.link.look import check_radio
from livemon.link.plan import Plan
from livemon.link.radio import Radio
from livemon.link.status import LinkStatus
from livemon.link.supervision import Supervision
from livemon.monitor.marks import Details
from livemon.monitor.plan import Plan as TrainingPlan
from livemon.monitor.session import Difference, Session, Told
from livemon.monitor.snapshot import SessionSnapshot
from livemon.record.warning_lines import Happened

#: How often the newest snapshot is handed out, and the ticks looked after.
_STEP_S: Final = 0.05
#: With relays: a fifth of the tenth of a second that a reading may take to the screen.
_INFLOW_STEP_S: Final = 0.02
_NS_PER_S: Final = 1e9
#: Read on a link before the sensor has measured anything.
_SAY_NOTHING_YET: Final = frozenset({BATTERY_LEVEL, PRESENTATION_FORMAT})


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
        self._on_learned = on_learned
        self._written = WrittenSession(head, journal, each_tick=each_tick, told=told)
        self._marks = LiveMarks(
            self.emit, now_ns=now_ns, lanes=lambda: self.latest.lanes, training=training
        )
        self._give_up_s = give_up_s
        self._anything_came = False
        self._services = services
        self._inflow = inflow
        self._supervision: Supervision | None = None
        self._steps: list[Callable[[], None]] = []

    @property
    def latest(self) -> SessionSnapshot:
        """The newest snapshot; any thread may ask."""
        return self._written.latest

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
        return self._written.differences

    @property
    def trouble(self) -> str:
        """Why Bluetooth can't be used just now; empty if it can."""
        return "" if self._supervision is None else self._supervision.trouble

    def mark(self, athlete: str | None, kind: str, details: Details) -> None:
        """Write a mark down as of now, unless it is what a plan waits for."""
        self._marks.make((athlete,), kind, details)

    def mark_several(self, athletes: tuple[Whom, ...], kind: str, details: Details) -> None:
        """Write the same mark down for each of them; one undo takes them back."""
        self._marks.make(athletes, kind, details)

    def undo(self) -> None:
        """Take the last mark back, of all for whom it was made."""
        self._marks.undo()

    def choose_plan(self, whom: Whom, plan: TrainingPlan | None) -> None:
        """Train by a plan from the next bout on, everybody or one athlete; None for none."""
        self._marks.choose_plan(whom, plan)

    @property
    def names(self) -> dict[str, str]:
        """What the athletes are called, by id."""
        return {lane.athlete: lane.name or lane.athlete for lane in self.latest.lanes}

    def emit(self, event: Event) -> None:
        """Take the next event: write it down, then feed it."""
        self._written.feed(event)
        if isinstance(event, Notification) and event.characteristic not in _SAY_NOTHING_YET:
            self._anything_came = True

    def handled(self, athlete: str, what: Happened, for_s: float | None = None) -> None:
        """Write down how somebody dealt with the warnings of `athlete`."""
        self._written.handled(athlete, what, for_s)

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
            self._written.hand_out()
            self._written.close(self._now_ns() / _NS_PER_S)

    def _slept(self, gap: Gap) -> None:
        """Nobody was watching: say so in the recording, and open all links afresh."""
        self.emit(gap)
        if self._supervision is not None and gap.missed_ns:
            self._supervision.begin_again(gap.reason)

    async def _keep_time(self) -> None:
        """Let the ticks fall due, hand out snapshots, look after the journal."""
        while True:
            now_ns = self._now_ns()
            self._written.advance(self._take_inflow(now_ns))
            self._marks.follow_plans(now_ns)
            self._written.hand_out()
            for step in self._steps:
                step()
            self._written.look_after(now_ns / _NS_PER_S)
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

    def _look_at_the_time(self, now_s: float, give_up_s: float) -> None:
        if now_s < give_up_s:
            return
        reasons = " ".join(
            f"{status.sensor}: {status.hint or status.state.value}." for status in self.statuses()
        )
        raise RadioError(f"nothing came from any sensor in {give_up_s:g} s. {reasons}")
