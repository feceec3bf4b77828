"""What users of Bluetooth libraries report from the field, one scenario each, on virtual time.

Each scenario stands beside the public reports of it. Bounds on time are ours.
"""

import asyncio
from collections.abc import Awaitable, Callable
from dataclasses import replace

import pytest
from bleak.exc import BleakGATTProtocolError
from link_gym import (
    HOST,
    OXYGEN_CHARACTERISTIC,
    SERIAL_NUMBER,
    Gym,
    oximeter,
    plan_for,
    remembered,
    strap,
    with_serial,
)

from livemon.decode.adapter_file import StartUpWrite
from livemon.decode.battery import BATTERY_LEVEL, BATTERY_SERVICE
from livemon.decode.body_location import BODY_SENSOR_LOCATION, BodyLocation
from livemon.decode.device_information import DEVICE_INFORMATION_SERVICE, MODEL_NUMBER
from livemon.errors import LinkLost, UsageError
from livemon.events import LinkDown, LinkUp, Notification
from livemon.link.airtime import IDLE
from livemon.link.plan import HEART_RATE_SERVICE
from livemon.link.radio import Sighting
from livemon.link.simulated.faults import Fault, begin, end
from livemon.link.simulated.sensor import EndWord, SimulatedSensor
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


def test_a_missing_sensor_leaves_air_to_the_others_when_nobody_works_out() -> None:
    async def scenario(gym: Gym) -> None:
        gym.supervision.set_tempo(IDLE)
        gym.sensors["strap 2"].troubles.off = True
        await asyncio.sleep(600)
        assert gym.air.scanned_s < 0.3 * 600

    play(scenario, team(straps=2))


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


def test_copies_of_a_packet_are_dropped_and_counted() -> None:
    """See bleak issue 2002: each value comes twice after a reconnect."""

    async def scenario(gym: Gym) -> None:
        gym.sensors["strap 1"].troubles.copies = 3
        await gym.until(LinkState.LIVE, "strap 1")
        await asyncio.sleep(10)
        counters = gym.status("strap 1").counters
        assert counters.doubles == 2 * len(gym.notified())

    assert play(scenario, team(straps=1)).each_delivery_was_recorded_once()


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


def test_the_first_packet_of_a_link_may_be_lost() -> None:
    """See bleak issue 1885: what comes before the subscription is confirmed is lost."""

    async def scenario(gym: Gym) -> None:
        gym.sensors["strap 1"].troubles.loses_first = 1
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)

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
        gym.supervision.dismiss("strap 1", stranger.address)
        await gym.until(LinkState.SEARCHING, "strap 1", 1.0)
        await asyncio.sleep(10)
        assert gym.status("strap 1").state is LinkState.SEARCHING
        end(Fault.DROP, gym.air, own)
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)

    play(scenario, team(straps=1))


def test_a_person_may_change_their_mind() -> None:
    async def scenario(gym: Gym) -> None:
        device = gym.sensors["strap 1"]
        gym.supervision.dismiss("strap 1", device.address)
        await asyncio.sleep(10)
        assert gym.status("strap 1").state is LinkState.SEARCHING
        gym.supervision.choose("strap 1", device.address)
        await gym.until(LinkState.LIVE, "strap 1", BACK_WITHIN_S)

    named = replace(remembered("strap 1", strap(1)), addresses=())
    play(scenario, team(straps=1), registry=(named,))


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


def test_a_sensor_that_is_heard_does_not_wait_for_one_that_is_missing() -> None:
    async def scenario(gym: Gym) -> None:
        gym.sensors["strap 2"].troubles.off = True
        await gym.until(LinkState.OPEN, "strap 1", 1.285 + 0.6)

    play(scenario, team(straps=2))


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


def test_a_sensor_that_nobody_remembers_cannot_be_kept() -> None:
    async def scenario(gym: Gym) -> None:
        with pytest.raises(UsageError, match="remember it first"):
            gym.supervision.keep(plan_for("unknown", strap(7)))
        known = remembered("unknown", strap(7))
        gym.supervision.remember(known)
        gym.supervision.keep(plan_for("unknown", strap(7)))
        await asyncio.sleep(1)

    play(scenario, {})


def test_a_sensor_that_is_released_is_set_free() -> None:
    async def scenario(gym: Gym) -> None:
        await all_live(gym)
        await gym.supervision.release("strap 1")
        assert gym.air.links == 1
        assert [status.sensor for status in gym.supervision.statuses()] == ["strap 2"]

    play(scenario, team(straps=2))
