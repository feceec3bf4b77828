"""The kit of a running session: who is there, which sensor is whose, what is nearby.

Lives in the engine's thread. What it changes goes into the session as events, so a recording
decodes anywhere; what it knows comes out as one immutable `facts`.
"""

from collections.abc import Callable
from pathlib import Path
from typing import Final

from livemon.app.kit_adapters import KitAdapters
from livemon.app.kit_asking import ASKING, KitAsking
from livemon.app.kit_baselines import KitBaselines
from livemon.app.kit_facts_of import known, known_as, nearby, used
from livemon.app.kit_people import People
from livemon.app.kit_scan import KitScan
from livemon.app.kit_there import KitThere
from livemon.app.kit_worn import KitWorn
from livemon.app.live import Live
from livemon.errors import LivemonError
from livemon.events import Head
from livemon.link.inside import Inside
from livemon.tongue import said
from livemon.view.difference_words import difference_hint
from livemon.view.kit_facts import KitFacts

#: Often enough to look alive; the list of what is nearby is not cheap to make.
_STEP_NS: Final = 500_000_000


class KitRoom:
    """Carries out what people ask for on the Kit page.

    Args:
        live: the session.
        head: who is there at the start, and what they wear.
        adapters: what can be chosen.
        host: id of this computer.
        now_ns: the session's clock.
        new_id: makes an id of our own, for a "strap", an "oximeter", "work" or an "athlete".
        people: who was met before; kept as they change, but for those of `head`.
        work: which sensors of `head` measure work by a standard profile.

    Attributes:
        there: the athletes of this session.
        worn: the sensors in use.
        people: who was met before.
        new_id: makes an id.
        facts: how everything stands.
    """

    def __init__(
        self,
        live: Live,
        head: Head,
        adapters: KitAdapters,
        *,
        host: str,
        now_ns: Callable[[], int],
        new_id: Callable[[str], str],
        people: People | None = None,
        work: frozenset[str] = frozenset(),
    ) -> None:
        self._live = live
        self._adapters = adapters
        self._now_ns = now_ns
        self.new_id = new_id
        self.people = People() if people is None else people
        self.there = KitThere(live, head, self.people, now_ns=now_ns)
        self.worn = KitWorn(
            live,
            head,
            adapters,
            self.there,
            self.people,
            host=host,
            now_ns=now_ns,
            new_id=new_id,
            work=work,
        )
        self._baselines = KitBaselines(live)
        self._scan = KitScan(adapters)
        self._asking = KitAsking(adapters)
        self._outcome: tuple[str, ...] = ()
        self._wishes = 0
        self._due_ns = 0
        self.facts = KitFacts(adapters=adapters.names)
        live.on_step(self.step)

    def do(self, wish: Callable[[], object]) -> None:
        """Carry out one wish, and keep in words what hindered it."""
        self._outcome = ()
        self._wishes += 1
        try:
            wish()
        except LivemonError as problem:
            self._outcome = (str(problem),)
        self._due_ns = 0  # shown at the next step

    def step(self) -> None:
        """Look how everything stands, a few times a second."""
        now_ns = self._now_ns()
        if now_ns < self._due_ns:
            return
        self._due_ns = now_ns + _STEP_NS
        if self._live.latest is not None:
            self._baselines.step(self._live.latest)
        supervision = self._live.supervision
        heard = self._scan.heard(supervision)
        status = {one.sensor: one for one in self._live.statuses()}
        self.facts = KitFacts(
            looking=self._scan.looking,
            everything=self._scan.everything,
            trouble=self._live.trouble,
            nearby=self._scan.in_order(
                nearby(
                    heard,
                    supervision.registry,
                    set(self.worn.uses),
                    self._adapters,
                    self.people,
                    self._asking.found,
                )
            ),
            in_use=tuple(
                used(use, status.get(name), now_ns, difference_hint(self._live.differences, name))
                for name, use in self.worn.uses.items()
            ),
            adapters=self._adapters.names,
            resting=self._baselines.facts(),
            known=known(self.people),
            there=tuple(known_as(one) for one in self.there),
            outcome=self._outcome,
            wishes=self._wishes,
        )

    # --- the scan

    def look_around(self, on: bool) -> None:
        """Scan although nothing is missing, or no longer."""
        self._scan.looking = on  # from the next step on: before the first there is no radio

    def list_everything(self, on: bool) -> None:
        """List also what does not look like a sensor, or no longer."""
        self._scan.everything = on

    # --- one device

    def wear(
        self, key: str, reading: str, athlete: str, site: str, wheel_m: float | None = None
    ) -> None:
        """Read a device from now on, worn by `athlete`.

        Raises:
            UsageError: it is no longer there, or in use, or its place is taken.
        """
        names = {one.address: one.name for one in self.facts.nearby}
        self.worn.wear(key, reading, athlete, site, wheel_m, names=names)

    def ask_what(self, key: str) -> None:
        """Open a device to learn what it offers; nothing is written to it.

        Raises:
            UsageError: it is no longer there.
        """
        address = next((one.address for one in self.facts.nearby if one.key == key), "")
        self._live.supervision.look_inside(
            address, lambda answer: self.do(lambda: self._hear(answer))
        )
        self._outcome = (said(ASKING),)

    def _hear(self, answer: Inside | LivemonError) -> None:
        self._outcome = (self._asking.hear(answer),)

    def choose(self, sensor: str, address: str) -> None:
        """Take a person's word that the device at `address` is `sensor`."""
        self._live.supervision.choose(sensor, address)

    def add_adapter(self, path: Path) -> None:
        """Check an adapter file and offer it.

        Raises:
            AdapterError: it can't be used.
        """
        self._outcome = self._adapters.add(path)

    # --- rest

    def start_baseline(self, athlete: str) -> None:
        """Begin the resting baseline of an athlete.

        Raises:
            UsageError: they wear no oximeter.
        """
        worn = [use.sites for use in self.worn.uses.values() if use.athlete == athlete]
        if self._live.latest is not None:
            self._baselines.start(athlete, sum(worn, ()), self._live.latest)

    def stop_baseline(self, athlete: str) -> None:
        """Give it up."""
        self._baselines.stop(athlete)
