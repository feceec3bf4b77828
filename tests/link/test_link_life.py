"""A link's life: how it begins, goes silent, ends and comes back, one scenario each.

What users of Bluetooth libraries report from the field; time is virtual, bounds on it are ours.
"""

import asyncio
from dataclasses import replace

import pytest
from link_gym import (
    Gym,
    plan_for,
)
from link_scenarios import BACK_WITHIN_S, all_live, play, team

from livemon.events import LinkDown
from livemon.link.simulated.faults import Fault, begin, end
from livemon.link.simulated.sensor import EndWord
from livemon.link.simulated.virtual_loop import run_virtually
from livemon.link.status import LinkState


def test_a_sensor_held_by_another_device_is_explained_and_comes_back() -> None:
    """See bleak issues 367, 1757: once linked elsewhere, a sensor does not advertise."""

    async def scenario(gym: Gym) -> None:
        held = gym.sensors["strap 1"]
        held.troubles.held_elsewhere = True
        await asyncio.sleep(8)
        assert gym.status("strap 1").hint == ""
        await asyncio.sleep(4)
        assert "another device (a phone, a watch) holds its only link" in gym.status("strap 1").hint
        held.troubles.held_elsewhere = False
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)
        assert gym.status("strap 1").hint == ""
        assert gym.status("strap 1").missing_since_ns is None

    play(scenario, team(straps=1))


def test_a_link_left_by_a_killed_run_is_taken_over() -> None:
    """See bleak issue 1222: BlueZ keeps the link, so the sensor is in no scan."""

    async def scenario(gym: Gym) -> None:
        gym.air.leave_orphan(gym.sensors["strap 1"])
        await gym.until(LinkState.LIVE, "strap 1", 5)

    gym = play(scenario, team(straps=1))

    assert gym.air.links == 0


def test_a_link_left_by_a_killed_run_is_closed_if_it_is_dead() -> None:
    async def scenario(gym: Gym) -> None:
        dead = gym.sensors["strap 1"]
        dead.troubles.silent = True
        gym.air.leave_orphan(dead)
        await gym.until_true(lambda: gym.status("strap 1").counters.lost == 1)
        dead.troubles.silent = False
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)

    play(scenario, team(straps=1))


def test_a_silent_link_turns_stale_at_three_seconds_and_is_broken_up_at_twelve() -> None:
    """bleak-retry-connector issue 228: connected for the system, dead for everybody else."""

    async def scenario(gym: Gym) -> None:
        zombie = gym.sensors["strap 1"]
        await gym.until(LinkState.LIVE, "strap 1")
        await asyncio.sleep(3)
        heard_ns = gym.notified()[-1].t_ns
        zombie.troubles.silent = True

        def silent_s() -> float:
            return (gym.now_ns() - heard_ns) / 1e9

        await gym.until(LinkState.SILENT, "strap 1")
        assert silent_s() == pytest.approx(3.0, abs=0.1)
        assert "nothing has come for 3 s" in gym.status("strap 1").hint
        await gym.until_true(lambda: gym.status("strap 1").counters.lost == 1)
        assert silent_s() == pytest.approx(12.0, abs=0.1)
        zombie.troubles.silent = False
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)

    gym = play(scenario, team(straps=1))

    (down, _) = [event for event in gym.events if isinstance(event, LinkDown)]
    assert down.reason == "linked, but nothing came for 12 s"
    assert gym.each_delivery_was_recorded_once()


def test_callbacks_of_earlier_links_change_nothing() -> None:
    """See bleak issue 2002 again: the callback of the link before still gets the packets."""

    async def scenario(gym: Gym) -> None:
        await gym.until(LinkState.LIVE, "strap 1")
        gym.sensors["strap 1"].troubles.old_callbacks = True
        gym.air.drop(gym.sensors["strap 1"])
        await asyncio.sleep(10)
        counters = gym.status("strap 1").counters
        assert counters.strays > 3

    assert play(scenario, team(straps=1)).each_delivery_was_recorded_once()


@pytest.mark.parametrize("word", list(EndWord), ids=lambda word: word.name.lower())
def test_the_word_that_a_link_ended_is_only_a_hint(word: EndWord) -> None:
    """See bleak issue 308 and others: at once, after 6 s, twice, or never."""

    async def scenario(gym: Gym) -> None:
        dropped = gym.sensors["strap 1"]
        await gym.until(LinkState.LIVE, "strap 1")
        dropped.troubles.end_word = word
        gym.air.drop(dropped)
        await gym.until_true(lambda: gym.status("strap 1").counters.lost == 1, 12.1)
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)
        await asyncio.sleep(20)
        assert gym.status("strap 1").counters.lost == 1

    assert play(scenario, team(straps=1, oximeters=1)).each_delivery_was_recorded_once()


@pytest.mark.parametrize("off_s", [1, 7, 60, 600, 601.1, 602.2, 603.3, 604.4])
def test_data_flow_again_soon_after_a_sensor_returns(off_s: float) -> None:
    """Advertising at 1.285 s, the longest interval that Apple's accessory guidelines name."""

    async def scenario(gym: Gym) -> None:
        await all_live(gym)
        returning = gym.sensors["strap 1"]
        begin(Fault.DROP, gym.air, returning)
        await asyncio.sleep(off_s)
        end(Fault.DROP, gym.air, returning)
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)

    play(scenario, team(straps=2))


@pytest.mark.parametrize("failing_s", [30, 31.1, 32.2, 33.3])
def test_data_flow_again_soon_after_openings_that_failed(failing_s: float) -> None:
    async def scenario(gym: Gym) -> None:
        device = gym.sensors["strap 1"]
        begin(Fault.OPENING_FAILS, gym.air, device)
        await asyncio.sleep(failing_s)
        assert gym.status("strap 1").counters.failed > 5
        end(Fault.OPENING_FAILS, gym.air, device)
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)

    play(scenario, team(straps=1))


def test_waits_are_short_again_once_data_have_come() -> None:
    async def scenario(gym: Gym) -> None:
        device = gym.sensors["strap 1"]
        device.troubles.opening_fails = True
        await gym.until_true(lambda: gym.status("strap 1").counters.failed == 10)
        device.troubles.opening_fails = False
        await gym.until(LinkState.LIVE, "strap 1")
        gym.air.drop(device)
        await gym.until(LinkState.WAITING, "strap 1")
        assert await gym.until(LinkState.SEARCHING, "strap 1") <= 0.3

    play(scenario, team(straps=1))


def test_a_farewell_that_never_ends_takes_five_seconds() -> None:
    """See bleak issue 315: disconnect() itself may block."""

    async def main() -> float:
        loop = asyncio.get_running_loop()
        async with Gym(team(straps=3)) as gym:
            await all_live(gym)
            for device in gym.sensors.values():
                device.troubles.closing_hangs = True
            stopping_s = loop.time()
        return loop.time() - stopping_s

    assert run_virtually(main()) == pytest.approx(5.0, abs=1.5)


def test_a_mistake_with_one_sensor_leaves_the_others_alone(
    caplog: pytest.LogCaptureFixture,
) -> None:
    """A TaskGroup over all sensors would have cancelled the healthy ones."""

    async def scenario(gym: Gym) -> None:
        await all_live(gym)
        healthy = len(gym.notified("strap 2"))
        broken = replace(plan_for("strap 1", gym.sensors["strap 1"]), channels=(None,))
        gym.supervision.keep(broken)
        await asyncio.sleep(30)
        assert "made a mistake" in gym.status("strap 1").hint
        assert len(gym.notified("strap 2")) == healthy + 30
        gym.supervision.keep(plan_for("strap 1", gym.sensors["strap 1"]))
        await gym.until(LinkState.LIVE, "strap 1")

    play(scenario, team(straps=2))
    assert "a mistake in livemon while reading strap 1" in caplog.text


def test_a_sensor_that_is_released_is_set_free() -> None:
    async def scenario(gym: Gym) -> None:
        await all_live(gym)
        await gym.supervision.release("strap 1")
        assert gym.air.links == 1
        assert [status.sensor for status in gym.supervision.statuses()] == ["strap 2"]

    play(scenario, team(straps=2))
