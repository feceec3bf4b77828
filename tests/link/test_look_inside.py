"""A device that does not say what it is can be asked; it is set free at once."""

import asyncio

import pytest
from link_gym import OXYGEN_CHARACTERISTIC, Gym, oximeter, strap
from link_scenarios import play, team

from livemon.decode.device_information import DEVICE_INFORMATION_SERVICE, MODEL_NUMBER
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.errors import LinkLost, RadioError, UsageError
from livemon.link.inside import Inside
from livemon.link.simulated.faults import Fault, begin
from livemon.link.simulated.sensor import SimulatedSensor

Found = Inside | LinkLost | RadioError


def stranger(device: SimulatedSensor) -> SimulatedSensor:
    device.advertised = ()
    device.readable = device.readable | {DEVICE_INFORMATION_SERVICE: {MODEL_NUMBER: b"Invented"}}
    return device


async def heard(gym: Gym, device: SimulatedSensor) -> None:
    def is_heard() -> bool:
        nearby = gym.supervision.nearby({}, everything=True)
        return device.address in {one.address for one in nearby}

    await gym.until_true(is_heard, 10)


async def asked(gym: Gym, device: SimulatedSensor) -> Found:
    answer: asyncio.Future[Found] = gym.loop.create_future()
    with gym.supervision.looking_around():
        await heard(gym, device)
        gym.supervision.look_inside(device.address, answer.set_result)
        return await answer


@pytest.mark.parametrize(
    ("device", "characteristic"),
    [(strap(9), HEART_RATE_MEASUREMENT), (oximeter(9), OXYGEN_CHARACTERISTIC)],
    ids=["strap", "oximeter"],
)
def test_what_it_offers_is_told_and_nothing_is_subscribed_or_held(
    device: SimulatedSensor, characteristic: str
) -> None:
    async def scenario(gym: Gym) -> None:
        gym.air.add(stranger(device))
        found = await asked(gym, device)
        assert isinstance(found, Inside)
        assert characteristic in found.characteristics
        assert found.details.model == "Invented"
        await asyncio.sleep(1)
        assert gym.air.links == 1  # the team's own
        assert gym.air.place(device).earlier == []

    gym = play(scenario, team(straps=1))

    assert {one.sensor for one in gym.notified()} == {"strap 1"}


def test_a_device_that_cannot_be_reached_is_told_with_the_reason() -> None:
    async def scenario(gym: Gym) -> None:
        device = stranger(strap(9))
        gym.air.add(device)
        begin(Fault.OPENING_FAILS, gym.air, device)
        found = await asked(gym, device)
        assert isinstance(found, LinkLost)
        assert "opening the link failed" in str(found)

    play(scenario, {})


def test_what_is_not_nearby_cannot_be_asked() -> None:
    async def scenario(gym: Gym) -> None:
        with pytest.raises(UsageError, match="no longer there"):
            gym.supervision.look_inside("C0:00:00:00:00:77", lambda _: None)

    play(scenario, {})


@pytest.mark.parametrize("begun_s", [0.0, 0.3, 2.0])
def test_the_end_of_the_session_ends_a_look(begun_s: float) -> None:
    """What must hold after each scenario, no task left, is checked by `play`."""

    async def scenario(gym: Gym) -> None:
        device = stranger(strap(9))
        gym.air.add(device)
        begin(Fault.OPENING_HANGS, gym.air, device)
        with gym.supervision.looking_around():
            await heard(gym, device)
        gym.supervision.look_inside(device.address, lambda _: pytest.fail("it told something"))
        await asyncio.sleep(begun_s)

    gym = play(scenario, {})

    assert gym.air.links == 0
