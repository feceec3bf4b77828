"""Every long task ends soon after it is cancelled, whatever it was doing at that moment.

asyncio's `wait_for` lost cancellations on Python 3.11 (cpython issue 86296); we don't use it, and a
cancellation at each of many moments shows it.
"""

import asyncio

import pytest
from link_gym import Gym, oximeter, strap

from livemon.link.clocks import Clocks, watch_clocks
from livemon.link.simulated.virtual_loop import VirtualTimeLoop, run_virtually

TURNS = range(120)


async def after_turns(turns: int) -> None:
    """Let the loop turn; on virtual time each turn does what is due, or jumps to the next timer."""
    for _ in range(turns):
        await asyncio.sleep(0)


@pytest.mark.parametrize("begun_s", [0.0, 0.2, 0.4, 0.7, 1.3, 6.0])
def test_supervision_stops_within_a_second_at_every_turn(begun_s: float) -> None:
    async def main(turns: int) -> None:
        loop = asyncio.get_running_loop()
        gym = Gym({"strap": strap(1), "oximeter": oximeter(2)})
        await gym.__aenter__()
        gym.sensors["oximeter"].troubles.opening_fails = True
        await asyncio.sleep(begun_s)
        await after_turns(turns)
        began_s = loop.time()
        await gym.supervision.stop()
        assert loop.time() - began_s < 1.0
        assert gym.links_are_paired()
        assert gym.air.links == 0
        gym.air.close()
        assert asyncio.all_tasks() == {asyncio.current_task()}

    for turns in TURNS:
        run_virtually(main(turns))


def test_impatient_cancelling_still_sets_the_sensors_free() -> None:
    """A shutdown that cancels again and again must not cut a farewell short."""

    async def main(turns: int) -> None:
        gym = Gym({"strap": strap(1)})
        await gym.__aenter__()
        await asyncio.sleep(3)
        stopping = asyncio.create_task(gym.supervision.stop())
        await after_turns(turns)
        for _ in range(5):
            for task in asyncio.all_tasks() - {asyncio.current_task(), stopping}:
                if (task.get_name() or "").startswith(("sensor", "scan")):
                    task.cancel()
            await asyncio.sleep(0)
        await stopping
        assert gym.air.links == 0
        gym.air.close()

    for turns in range(20):
        run_virtually(main(turns))


def test_the_watch_on_the_clocks_ends_at_once() -> None:
    async def main() -> None:
        loop = asyncio.get_running_loop()
        assert isinstance(loop, VirtualTimeLoop)
        now_ns = loop.now_ns
        watch = asyncio.create_task(
            watch_clocks(lambda: Clocks(now_ns(), now_ns(), now_ns()), lambda _: None)
        )
        await asyncio.sleep(2.5)
        watch.cancel()
        await asyncio.wait({watch}, timeout=1.0)
        assert watch.cancelled()

    run_virtually(main())
