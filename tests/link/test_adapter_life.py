"""The adapter's life: what overlaps, fills up, sleeps or is switched off, one scenario each.

What users of Bluetooth libraries report from the field; time is virtual, bounds on it are ours.
"""

import asyncio

import pytest
from link_gym import (
    Gym,
)
from link_scenarios import BACK_WITHIN_S, all_live, play, team

from livemon.errors import LinkLost
from livemon.events import LinkDown, LinkUp
from livemon.link.radio import Sighting
from livemon.link.simulated.sensor import EndWord
from livemon.link.status import LinkState


def test_twenty_four_sensors_start_together_without_overlap() -> None:
    """See bleak issues 1036, 1689: overlapping scans and openings give InProgress."""
    gym = play(all_live, team(straps=8, oximeters=16))

    assert gym.air.overlaps == 0
    assert gym.each_delivery_was_recorded_once()


def test_no_scan_goes_on_once_all_sensors_are_linked() -> None:
    """Scanning costs the packets of links that stand (bleak troubleshooting, Raspberry Pi)."""

    async def scenario(gym: Gym) -> None:
        await all_live(gym)
        scanned_s = gym.air.scanned_s
        await asyncio.sleep(600)
        assert gym.air.scanned_s == scanned_s

    play(scenario, team(straps=3))


def test_another_program_keeps_the_adapter_busy() -> None:
    """See bleak issue 178: InProgress for as long as a desktop panel scans."""

    async def scenario(gym: Gym) -> None:
        gym.air.busy = True
        await asyncio.sleep(40)
        assert "has been busy for" in gym.status("strap 1").hint
        gym.air.busy = False
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)

    play(scenario, team(straps=1))


def test_a_full_adapter_is_named_and_its_links_stay() -> None:
    """See bleak issue 1858: beyond the adapter's slots a sensor is simply not found."""

    async def scenario(gym: Gym) -> None:
        await asyncio.sleep(30)
        states = [s.state for s in gym.supervision.statuses()]
        assert states.count(LinkState.LIVE) == 5
        (left_out,) = [s for s in gym.supervision.statuses() if s.state is not LinkState.LIVE]
        assert "may be full (5 links are open" in left_out.hint

    gym = play(scenario, team(straps=6), slots=5)

    assert sum(isinstance(event, LinkUp) for event in gym.events) == 5


def test_a_sensor_that_is_heard_does_not_wait_for_one_that_is_missing() -> None:
    async def scenario(gym: Gym) -> None:
        gym.sensors["strap 2"].troubles.off = True
        await gym.until(LinkState.OPEN, "strap 1", 1.285 + 0.6)

    play(scenario, team(straps=2))


def test_after_a_sleep_of_the_computer_everything_is_opened_afresh() -> None:
    """See bluez issue 379: the adapter is gone for seconds; links are dead without a word."""

    async def scenario(gym: Gym) -> None:
        await all_live(gym)
        for device in gym.sensors.values():
            device.troubles.end_word = EndWord.NEVER
        gym.air.switch_off()
        gym.supervision.begin_again("the computer slept")
        await asyncio.sleep(4)
        assert "Bluetooth is switched off" in gym.supervision.trouble
        assert "Bluetooth is switched off" in gym.status("strap 1").hint
        gym.air.powered = True
        for sensor in gym.sensors:
            await gym.until(LinkState.LIVE, sensor, BACK_WITHIN_S)
        assert gym.supervision.trouble == ""

    play(scenario, team(straps=2, oximeters=2))


def test_a_scan_from_before_the_sleep_is_not_trusted() -> None:
    """It may never report anything again."""

    async def scenario(gym: Gym) -> None:
        gym.sensors["strap 1"].troubles.off = True
        await asyncio.sleep(1.0)
        assert gym.air.scans == 1
        gym.supervision.begin_again("the computer slept")
        await asyncio.sleep(0.1)
        assert gym.air.scans == 2

    play(scenario, team(straps=1))


def test_a_service_that_dies_is_the_reason_that_is_written_down() -> None:
    async def scenario(gym: Gym) -> None:
        gym.sensors["strap 1"].troubles.refusal = FileNotFoundError()
        await asyncio.sleep(5)

    gym = play(scenario, team(straps=1))

    (first, *_) = [event for event in gym.events if isinstance(event, LinkDown)]
    assert "Bluetooth service does not run" in first.reason


def test_an_attempt_that_never_ends_is_given_up_and_others_get_their_turn() -> None:
    """See bleak issue 1036: connect() may never return."""

    async def scenario(gym: Gym) -> None:
        gym.sensors["strap 1"].troubles.opening_hangs = True
        await gym.until(LinkState.LIVE, "strap 2", 15)
        gym.sensors["strap 1"].troubles.opening_hangs = False
        await gym.until(LinkState.LIVE, "strap 1", 30)

    play(scenario, team(straps=2))


def test_a_system_that_cannot_tell_open_links_does_not_stop_the_scan() -> None:
    async def refuse(_: frozenset[str]) -> tuple[Sighting, ...]:
        raise LinkLost("asking for open links took too long")

    async def scenario(gym: Gym) -> None:
        gym.radio.held = refuse
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)

    play(scenario, team(straps=1))


def test_a_mistake_in_the_scan_does_not_end_it(caplog: pytest.LogCaptureFixture) -> None:
    async def break_once(services: frozenset[str]) -> tuple[Sighting, ...]:
        del services
        raise ZeroDivisionError

    async def scenario(gym: Gym) -> None:
        right = gym.radio.held
        gym.radio.held = break_once
        await asyncio.sleep(10)
        assert gym.events == []
        gym.radio.held = right
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)

    play(scenario, team(straps=1))
    assert "a mistake in livemon while scanning" in caplog.text
