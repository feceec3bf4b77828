"""Who is who on the gym floor: nobody's data ever reach somebody else, one scenario each."""

import asyncio
from dataclasses import replace

import pytest
from link_gym import (
    SERIAL_NUMBER,
    Gym,
    plan_for,
    remembered,
    strap,
    with_serial,
)
from link_scenarios import BACK_WITHIN_S, all_live, known_addresses, play, team

from livemon.decode.device_information import DEVICE_INFORMATION_SERVICE
from livemon.errors import UsageError
from livemon.link.simulated.faults import Fault, begin, end
from livemon.link.status import LinkState


def test_a_new_address_is_believed_with_the_right_serial_number() -> None:
    """See bleak issue 1237: addresses change when a sensor is switched on."""
    sensors = {sensor: with_serial(device) for sensor, device in team(straps=3).items()}

    async def scenario(gym: Gym) -> None:
        await all_live(gym)
        assert {known.serial for known in gym.supervision.registry} == {
            device.address for device in sensors.values()
        }
        changed = sensors["strap 1"]
        begin(Fault.ADDRESS_CHANGE, gym.air, changed)
        await gym.until_true(lambda: gym.status("strap 1").counters.lost == 1)
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)
        assert changed.address.casefold() in known_addresses(gym, "strap 1")
        assert gym.saved[-1][0].addresses == gym.supervision.registry[0].addresses

    assert play(scenario, sensors).each_delivery_was_recorded_once()


def test_a_new_address_without_a_serial_number_asks_once() -> None:
    """From then on the sensor is known to change its address, and its name is enough."""

    async def scenario(gym: Gym) -> None:
        await all_live(gym)
        changed = gym.sensors["strap 1"]
        begin(Fault.ADDRESS_CHANGE, gym.air, changed)
        await gym.until(LinkState.ASKING, "strap 1")
        assert "may be another one" in gym.status("strap 1").hint
        gym.supervision.choose("strap 1", changed.address)
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)
        begin(Fault.ADDRESS_CHANGE, gym.air, changed)
        await gym.until_true(lambda: gym.status("strap 1").counters.lost == 2)
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)

    assert play(scenario, team(straps=2)).each_delivery_was_recorded_once()


def test_a_strangers_strap_is_not_taken_while_the_own_one_is_off() -> None:
    """It has the same name, is alone, and its address was never seen before."""
    stranger = strap(9, name="Strap 1")

    async def scenario(gym: Gym) -> None:
        own = gym.sensors["strap 1"]
        begin(Fault.DROP, gym.air, own)
        gym.air.add(stranger)
        await asyncio.sleep(120)
        assert gym.events == []
        assert gym.status("strap 1").state is LinkState.ASKING
        end(Fault.DROP, gym.air, own)
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)

    play(scenario, team(straps=1))


def test_a_sensor_that_a_person_named_is_found_by_that_name() -> None:
    sensors = team(straps=1)
    named = replace(remembered("strap 1", sensors["strap 1"]), addresses=())

    async def scenario(gym: Gym) -> None:
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)

    play(scenario, sensors, registry=(named,))


def test_two_new_devices_of_one_name_ask_the_person() -> None:
    """Neither is taken until somebody says which; then that one is."""
    sensors = {"anna": strap(1, name="Strap")}
    stranger = strap(9, name="Strap")
    known = replace(remembered("anna", sensors["anna"]), addresses=())

    async def scenario(gym: Gym) -> None:
        gym.air.add(stranger)
        await gym.until(LinkState.ASKING, "anna")
        await asyncio.sleep(60)
        assert gym.status("anna").state is LinkState.ASKING
        assert {c.address for c in gym.status("anna").candidates} == {
            sensors["anna"].address,
            stranger.address,
        }
        assert gym.notified() == []
        gym.supervision.choose("anna", sensors["anna"].address)
        await gym.until(LinkState.LIVE, "anna", BACK_WITHIN_S)

    assert play(scenario, sensors, registry=(known,)).each_delivery_was_recorded_once()


def test_two_remembered_sensors_of_one_name_are_never_mixed_up() -> None:
    """Both changed their addresses while they were off: nobody can tell them apart but a person."""
    sensors = {"anna": strap(1, name="Strap"), "ben": strap(2, name="Strap")}

    async def scenario(gym: Gym) -> None:
        await all_live(gym)
        begin(Fault.ADDRESS_CHANGE, gym.air, sensors["ben"])
        await asyncio.sleep(30)
        assert gym.status("anna").state is LinkState.LIVE
        assert gym.status("ben").state is LinkState.ASKING
        gym.supervision.choose("ben", sensors["ben"].address)
        await gym.until(LinkState.LIVE, "ben", BACK_WITHIN_S)

    assert play(scenario, sensors).each_delivery_was_recorded_once()


@pytest.mark.parametrize(
    "serial", [pytest.param({SERIAL_NUMBER: b"other"}, id="another"), pytest.param({}, id="none")]
)
def test_the_serial_number_gives_a_stranger_away(serial: dict[str, bytes]) -> None:
    """The own strap is off; a stranger's of the same name is near, alone and never met before."""
    own, stranger = strap(1, name="Strap"), strap(9, name="Strap")
    stranger.readable = {DEVICE_INFORMATION_SERVICE: serial}
    known = replace(remembered("anna", own), serial="own")

    async def scenario(gym: Gym) -> None:
        own.troubles.off = True
        gym.air.add(stranger)
        await asyncio.sleep(60)
        assert gym.events == []
        assert (gym.air.links, gym.air.openings) == (0, 1)  # looked at once, and never again
        own.troubles.off = False
        await gym.until(LinkState.LIVE, "anna", BACK_WITHIN_S)

    play(scenario, {"anna": own}, registry=(known,))


def test_a_sensor_that_nobody_remembers_cannot_be_kept() -> None:
    async def scenario(gym: Gym) -> None:
        with pytest.raises(UsageError, match="remember it first"):
            gym.supervision.keep(plan_for("unknown", strap(7)))
        known = remembered("unknown", strap(7))
        gym.supervision.remember(known)
        gym.supervision.keep(plan_for("unknown", strap(7)))
        await asyncio.sleep(1)

    play(scenario, {})
