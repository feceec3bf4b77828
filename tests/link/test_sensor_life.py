"""What sensors offer, say of themselves and send, one scenario each.

What users of Bluetooth libraries report from the field; time is virtual, bounds on it are ours.
"""

import asyncio
from dataclasses import replace

import pytest
from bleak.exc import BleakGATTProtocolError
from link_gym import (
    OXYGEN_CHARACTERISTIC,
    Gym,
    plan_for,
)
from link_scenarios import BACK_WITHIN_S, all_live, play, team

from livemon.decode.adapter_file import StartUpWrite
from livemon.decode.battery import BATTERY_LEVEL, BATTERY_SERVICE
from livemon.decode.body_location import BODY_SENSOR_LOCATION, BodyLocation
from livemon.decode.device_information import DEVICE_INFORMATION_SERVICE, MODEL_NUMBER
from livemon.events import Notification
from livemon.link.plan import HEART_RATE_SERVICE
from livemon.link.status import LinkState


def test_copies_of_a_packet_are_dropped_and_counted() -> None:
    """See bleak issue 2002: each value comes twice after a reconnect."""

    async def scenario(gym: Gym) -> None:
        gym.sensors["strap 1"].troubles.copies = 3
        await gym.until(LinkState.LIVE, "strap 1")
        await asyncio.sleep(10)
        counters = gym.status("strap 1").counters
        assert counters.doubles == 2 * len(gym.notified())

    assert play(scenario, team(straps=1)).each_delivery_was_recorded_once()


def test_the_first_packet_of_a_link_may_be_lost() -> None:
    """See bleak issue 1885: what comes before the subscription is confirmed is lost."""

    async def scenario(gym: Gym) -> None:
        gym.sensors["strap 1"].troubles.loses_first = 1
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)

    assert play(scenario, team(straps=1)).each_delivery_was_recorded_once()


@pytest.mark.parametrize("old_tables", [1, 99])
def test_an_old_table_of_services_costs_one_link(old_tables: int) -> None:
    """See bleak issues 1217, 1489: the system remembers the table of an earlier firmware.

    Some need a new link, Windows needs to be asked for a fresh table.
    """

    async def scenario(gym: Gym) -> None:
        gym.sensors["strap 1"].troubles.old_tables = old_tables
        await gym.until(LinkState.LIVE, "strap 1")
        assert gym.status("strap 1").generation == 2

    play(scenario, team(straps=1))


def test_a_sensor_that_advertises_no_service_is_found_all_the_same() -> None:
    """See bleak issue 635: some straps leave 0x180D out of their advertisement."""

    async def scenario(gym: Gym) -> None:
        gym.sensors["strap 1"].advertised = ()
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)

    play(scenario, team(straps=1))


@pytest.mark.parametrize(
    ("readable", "battery_pct"),
    [
        pytest.param({}, None, id="no battery service"),
        pytest.param({BATTERY_SERVICE: {BATTERY_LEVEL: bytes(100)}}, None, id="100 zeros"),
        pytest.param({BATTERY_SERVICE: {BATTERY_LEVEL: b"\xff"}}, None, id="reserved value"),
        pytest.param({BATTERY_SERVICE: {BATTERY_LEVEL: b"\x22"}}, 34, id="34 % of the supplement"),
    ],
)
def test_a_battery_never_costs_a_link(
    readable: dict[str, dict[str, bytes]], battery_pct: int | None
) -> None:
    """See bleak issues 104, 750: the service is missing, or gives zeros."""

    async def scenario(gym: Gym) -> None:
        gym.sensors["strap 1"].readable = readable
        await gym.until(LinkState.LIVE, "strap 1")
        assert gym.status("strap 1").battery_pct == battery_pct
        assert gym.supervision.registry[0].battery_pct == battery_pct
        assert gym.status("strap 1").generation == 1

    play(scenario, team(straps=1))


def test_the_battery_is_read_again_every_five_minutes() -> None:
    async def scenario(gym: Gym) -> None:
        await asyncio.sleep(599)

    gym = play(scenario, team(straps=1))

    batteries = [
        event
        for event in gym.events
        if isinstance(event, Notification) and event.characteristic == BATTERY_LEVEL
    ]
    assert len(batteries) == 2


def test_what_a_sensor_says_of_itself_is_shown() -> None:
    async def scenario(gym: Gym) -> None:
        gym.sensors["strap 1"].readable = {
            DEVICE_INFORMATION_SERVICE: {MODEL_NUMBER: b"Invented 1\0"},
            HEART_RATE_SERVICE: {BODY_SENSOR_LOCATION: b"\x01"},
        }
        await gym.until(LinkState.LIVE, "strap 1")
        details = gym.status("strap 1").details
        assert details.model == "Invented 1"
        assert details.worn_on is BodyLocation.CHEST

    play(scenario, team(straps=1))


@pytest.mark.parametrize("code", [0x05, 0x08, 0x0C, 0x0F])
def test_a_sensor_that_wants_a_pairing_is_not_tried_again_and_again(code: int) -> None:
    """See bleak issue 972; ATT errors of Core 5.4 Vol 3 Part F 3.4.1.1."""

    async def scenario(gym: Gym) -> None:
        refusing = gym.sensors["strap 1"]
        refusing.troubles.refusal = BleakGATTProtocolError(code)
        await gym.until(LinkState.REFUSED, "strap 1")
        assert "Forget the sensor in the system's Bluetooth settings" in gym.status("strap 1").hint
        await asyncio.sleep(300)
        assert gym.status("strap 1").generation == 1
        refusing.troubles.refusal = None
        gym.supervision.retry("strap 1")
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)

    play(scenario, team(straps=1))


@pytest.mark.parametrize("length", range(5))
def test_cut_packets_are_recorded_as_they_came(length: int) -> None:
    """A short packet is the decoder's to reject; the recording keeps it."""

    async def scenario(gym: Gym) -> None:
        gym.sensors["strap 1"].troubles.cut_to = length
        await gym.until(LinkState.LIVE, "strap 1")
        await asyncio.sleep(5)
        assert {len(one.payload) for one in gym.notified()} == {length}

    assert play(scenario, team(straps=1)).each_delivery_was_recorded_once()


def test_packets_that_come_together_are_all_kept_in_their_order() -> None:
    """Android-BLE-Library issue 340: a second's packets at one instant."""

    async def scenario(gym: Gym) -> None:
        await all_live(gym)
        gym.sensors["oximeter 1"].troubles.hold_s = 2.0
        await asyncio.sleep(20)

    gym = play(scenario, team(oximeters=1))

    assert gym.each_delivery_was_recorded_once()
    numbers = [int.from_bytes(one.payload[1:], "little") for one in gym.notified()]
    assert numbers == sorted(numbers)


def test_start_up_writes_are_those_of_the_adapter_file_and_no_others() -> None:
    async def scenario(gym: Gym) -> None:
        device = gym.sensors["oximeter 1"]
        device.writable = {
            "7a0c0001-6e1d-4c55-9b7e-10f3c2a94e11": (OXYGEN_CHARACTERISTIC[:-1] + "2",)
        }
        wake = StartUpWrite(OXYGEN_CHARACTERISTIC[:-1] + "2", b"\x01", response=True)
        plan = replace(plan_for("oximeter 1", device), writes=(wake,))
        gym.supervision.keep(plan)
        await gym.until(LinkState.LIVE, "oximeter 1")
        gym.air.drop(device)
        await asyncio.sleep(1)
        await gym.until(LinkState.LIVE, "oximeter 1")
        assert device.written == [(wake.characteristic, b"\x01")] * 2
        assert gym.sensors["strap 1"].written == []

    play(scenario, team(straps=1, oximeters=1))
