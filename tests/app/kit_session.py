"""A session that begins with an empty kit, on the simulated radio and virtual time."""

import asyncio
from collections.abc import Callable, Coroutine
from itertools import count
from pathlib import Path
from random import Random

from livemon.app.gym import HOST, Gym, gym_of
from livemon.app.kit_adapters import KitAdapters
from livemon.app.kit_desk import KitDesk
from livemon.app.kit_people import People
from livemon.app.kit_room import KitRoom
from livemon.app.live import Live
from livemon.decode.shipped import shipped_adapters
from livemon.events import Head
from livemon.link.clocks import Clocks
from livemon.link.identity import Registry
from livemon.link.plan import Plan
from livemon.link.simulated.virtual_loop import VirtualTimeLoop, run_virtually
from livemon.monitor.payload import snapshot_line
from livemon.record.writer import Journal
from livemon.synthetic.sessions import TRAININGS
from livemon.synthetic.training import ADAPTER
from livemon.view.kit_facts import STRAP, KitFacts

EMPTY = Head("2026-11-25T10:00:00+00:00", "kit")
#: What a person does, once the session runs.
Doing = Callable[[KitDesk, Live], Coroutine[None, None, None]]


class Kit:
    """A session that began with nothing, and what it left."""

    def __init__(self) -> None:
        self.lines: list[str] = []
        self.saved: Registry = ()


def run_kit(
    doing: Doing,
    *,
    gym: Gym,
    path: Path | None = None,
    head: Head = EMPTY,
    plans: tuple[Plan, ...] = (),
    registry: Registry = (),
    people: People | None = None,
) -> Kit:
    kit, adapters = Kit(), KitAdapters(shipped_adapters())
    journal = None if path is None else Journal(path, head, now_s=0.0)
    numbers = count(1)

    def learned(known: Registry) -> None:
        kit.saved = known

    async def run() -> None:
        loop = asyncio.get_running_loop()
        assert isinstance(loop, VirtualTimeLoop)
        live = Live(
            head,
            plans,
            lambda: gym.radio(loop.now_ns),
            registry,
            host=HOST,
            now_ns=loop.now_ns,
            chance=Random(5),
            clocks=lambda: Clocks(loop.now_ns(), loop.now_ns(), None),
            journal=journal,
            on_learned=learned,
            each_tick=lambda session: kit.lines.append(snapshot_line(session.snapshot())),
            services=frozenset(adapters.kinds()),
        )
        room = KitRoom(
            live,
            head,
            adapters,
            host=HOST,
            now_ns=loop.now_ns,
            new_id=lambda kind: f"{kind}-{next(numbers)}",
            people=people,
        )
        task = asyncio.create_task(live.run())
        await asyncio.sleep(0.1)
        await doing(KitDesk(room, lambda wish: loop.call_soon(wish) and None), live)
        task.cancel()
        await asyncio.wait({task})
        if not task.cancelled() and (error := task.exception()) is not None:
            raise error

    run_virtually(run())
    return kit


def two_athletes() -> Gym:
    return gym_of(TRAININGS["over-the-line"], athletes=2, seed=3)


def address_of(gym: Gym, sensor: str) -> str:
    return dict(gym.sensors)[sensor].address


async def found(desk: KitDesk, wanted: int) -> KitFacts:
    """Look around until so many sensors are heard."""
    desk.look_around(True)
    async with asyncio.timeout(20):
        while len(desk.facts().nearby) < wanted:  # noqa: ASYNC110 - the page polls too
            await asyncio.sleep(0.5)
    return desk.facts()


async def equip(desk: KitDesk, gym: Gym) -> tuple[str, str]:
    """Give both athletes a strap and two oximeters."""
    await found(desk, 6)
    ada = desk.add_athlete("Ada", (142, 154))
    ben = desk.add_athlete("Ben", None)
    for number, athlete in ((1, ada), (2, ben)):
        for sensor, _ in gym.sensors:
            if sensor.startswith(f"{number}-"):
                strap = sensor.endswith("strap")
                site = sensor.removeprefix(f"{number}-")
                desk.wear(address_of(gym, sensor), STRAP if strap else ADAPTER, athlete, site)
    desk.look_around(False)
    return ada, ben
