"""One sensor after another goes through what happens on a gym floor; time is virtual."""

import asyncio

from link_gym import Gym, oximeter, strap

from livemon.events import LinkDown, LinkUp
from livemon.link.simulated.virtual_loop import run_virtually
from livemon.link.status import LinkState


def test_data_come_from_every_sensor_and_nothing_is_left_behind() -> None:
    async def main() -> None:
        async with Gym({"strap": strap(1), "oximeter": oximeter(2)}) as gym:
            await asyncio.sleep(10)
            assert {status.state for status in gym.supervision.statuses()} == {LinkState.LIVE}
            assert gym.status("strap").battery_pct == 85
        assert len(gym.notified("strap")) >= 8
        assert len(gym.notified("oximeter")) >= 14
        assert gym.each_delivery_was_recorded_once()
        assert gym.links_are_paired()
        assert gym.air.links == 0
        assert asyncio.all_tasks() == {asyncio.current_task()}

    run_virtually(main())


def test_a_dropped_sensor_comes_back_and_its_neighbour_loses_nothing() -> None:
    async def main() -> None:
        dropped, healthy = strap(1), oximeter(2)
        async with Gym({"dropped": dropped, "healthy": healthy}) as gym:
            await asyncio.sleep(5)
            dropped.troubles.off = True
            gym.air.drop(dropped)
            await asyncio.sleep(20)
            assert gym.status("dropped").state is LinkState.SEARCHING
            dropped.troubles.off = False
            assert await gym.until(LinkState.LIVE, "dropped") < 1.285 + 5
        links = [e for e in gym.events if isinstance(e, LinkUp | LinkDown)]
        assert [type(e) for e in links if e.sensor == "healthy"] == [LinkUp, LinkDown]
        assert gym.each_delivery_was_recorded_once()

    run_virtually(main())
