"""How the scenarios are played: a gym on virtual time, and what must hold after each of them."""

import asyncio
from collections.abc import Awaitable, Callable

from link_gym import (
    HOST,
    Gym,
    oximeter,
    strap,
)

from livemon.link.simulated.sensor import SimulatedSensor
from livemon.link.simulated.virtual_loop import run_virtually
from livemon.link.status import LinkState

#: After the end of a fault: one advertisement at the longest usual interval, then 5 s.
BACK_WITHIN_S = 1.285 + 5.0
Scenario = Callable[[Gym], Awaitable[None]]


def play(scenario: Scenario, sensors: dict[str, SimulatedSensor], **options: object) -> Gym:
    """Run a scenario, then check what must hold after each of them."""

    async def main() -> Gym:
        async with Gym(sensors, **options) as gym:
            await scenario(gym)
        assert gym.links_are_paired()
        assert gym.air.overlaps == 0
        assert asyncio.all_tasks() == {asyncio.current_task()}
        return gym

    return run_virtually(main())


def team(straps: int = 0, oximeters: int = 0) -> dict[str, SimulatedSensor]:
    first = {f"strap {n}": strap(n) for n in range(1, straps + 1)}
    return first | {f"oximeter {n}": oximeter(n) for n in range(1, oximeters + 1)}


def known_addresses(gym: Gym, sensor: str) -> frozenset[str]:
    (known,) = [r for r in gym.supervision.registry if r.sensor == sensor]
    return known.addresses_on(HOST)


async def all_live(gym: Gym) -> None:
    await gym.until_true(
        lambda: {s.state for s in gym.supervision.statuses()} == {LinkState.LIVE}, at_most_s=30
    )
