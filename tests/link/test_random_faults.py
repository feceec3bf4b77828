"""Faults in random order over a full class: eight athletes with three sensors each.

After each fault's end data flow again within 5 s of the sensor's first advertisement, which comes
within 1.285 s; every delivered notification is recorded exactly once and for the right athlete;
sensors without a fault lose nothing; no task or link is left. The bound is ours.

LIVEMON_FAULT_SEQUENCES sets how many sequences are played.
"""

import asyncio
import os
from random import Random

import pytest
from link_gym import Gym, oximeter, strap, with_serial

from livemon.link.simulated.faults import Fault, begin, end
from livemon.link.simulated.sensor import SimulatedSensor
from livemon.link.simulated.virtual_loop import run_virtually
from livemon.link.status import LinkState

SEQUENCES = int(os.environ.get("LIVEMON_FAULT_SEQUENCES", "16"))

LINKED = {LinkState.OPEN, LinkState.LIVE, LinkState.SILENT}
ATHLETES, FAULTS = 8, 6
#: Faults of the adapter touch everybody; these are played one at a time.
ENDS_ALL = {Fault.SUSPEND, Fault.OFF, Fault.NOT_ALLOWED}
OF_ALL = {*ENDS_ALL, Fault.ADAPTER_BUSY, Fault.SLOTS_FULL}
#: Attempts that hang hold the adapter until they are given up, up to three in a row.
HANGING_S = 3 * 14.5
#: A link that can't be ended is left to itself after this long.
FAREWELL_S = 5.5
#: The watchdog breaks up a link of whose end no word came this long after its last data.
DEAD_S = 12.0
BACK_WITHIN_S = 5.0


def class_of(athletes: int) -> dict[str, SimulatedSensor]:
    sensors: dict[str, SimulatedSensor] = {}
    for number in range(1, athletes + 1):
        sensors[f"athlete {number} strap"] = strap(number)
        sensors[f"athlete {number} thigh"] = oximeter(2 * number)
        sensors[f"athlete {number} calf"] = oximeter(2 * number + 1)
    return {sensor: with_serial(device) for sensor, device in sensors.items()}


async def one_fault(gym: Gym, fault: Fault, sensor: str, chance: Random) -> None:
    """Let a fault come and go, then wait until everybody's data flow again."""
    device = gym.sensors[sensor]
    begin(fault, gym.air, device)
    if fault is Fault.SUSPEND:
        gym.supervision.begin_again("the computer slept")
    await asyncio.sleep(chance.uniform(1.0, 30.0))
    end(fault, gym.air, device)
    if fault is Fault.AUTHENTICATION:
        gym.supervision.retry(sensor)
    await flowing_again(gym, sensor, fault)


def allowance_s(gym: Gym, sensor: str, fault: Fault) -> float:
    """Return how much later than the bound this fault may be over for good reason."""
    match fault:
        case Fault.OPENING_HANGS:
            return HANGING_S
        case Fault.CLOSING_HANGS:
            return FAREWELL_S
        case Fault.SUSPEND | Fault.OFF | Fault.NOT_ALLOWED:  # all links, one after another
            return sum(device.opening_s + device.discovery_s for device in gym.sensors.values())
    if gym.status(sensor).state in LINKED:  # nobody has noticed yet
        return DEAD_S
    return 0.0


async def flowing_again(gym: Gym, sensor: str, fault: Fault) -> None:
    """Wait for the sensor's next data, within the bound."""
    ended_ns = gym.now_ns()
    await gym.until_true(
        lambda: (heard := gym.heard_ns(sensor)) is not None and heard > ended_ns,
        1.285 + BACK_WITHIN_S + allowance_s(gym, sensor, fault),
        lambda: f"{sensor} is not back after {fault.value}: {gym.status(sensor)}",
    )


@pytest.mark.parametrize("seed", range(SEQUENCES))
def test_a_class_survives_faults_in_any_order(seed: int) -> None:
    async def main() -> None:
        chance = Random(seed)
        async with Gym(class_of(ATHLETES), seed=seed) as gym:
            await gym.until_true(
                lambda: all(s.state is LinkState.LIVE for s in gym.supervision.statuses())
            )
            touched: set[str] = set()
            everybody = False
            for _ in range(FAULTS):
                fault = chance.choice(list(Fault))
                together = 1 if fault in OF_ALL else chance.randint(1, 3)
                chosen = chance.sample(sorted(gym.sensors), together)
                touched.update(chosen)
                everybody |= fault in ENDS_ALL
                await asyncio.gather(*(one_fault(gym, fault, sensor, chance) for sensor in chosen))
            await asyncio.sleep(2.0)
            assert gym.air.overlaps == 0
        for sensor in gym.sensors:
            if sensor not in touched and not everybody:
                assert gym.links_of(sensor) == 1, "a healthy sensor lost its link"
        assert gym.each_delivery_was_recorded_once()
        assert gym.nobody_got_anothers_data()
        assert gym.links_are_paired()
        assert gym.air.links == 0
        assert asyncio.all_tasks() == {asyncio.current_task()}

    run_virtually(main())
