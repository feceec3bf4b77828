"""The product's own radio and supervision over bleak's real Linux backend, and into the core.

Time is real here, so each test waits for what it wants to see and for nothing else.
"""

import asyncio
import sys
from dataclasses import replace

import pytest

pytest.importorskip("dbus_fast", reason="comes with bleak on Linux only")

import bleak
from bluez_fixtures import MEASUREMENT, STRAP
from dbus_fast import Message
from dbus_fast.aio import MessageBus
from supervised import (
    DEMO,
    DEMO_TEXT,
    HOST,
    OXI,
    Witness,
    beat,
    oxygen,
    plan_for,
    subscribed,
    supervised,
)

from livemon.events import Assigned, Athlete, Head, LinkDown, LinkUp, Sensor
from livemon.link.fake_bluez.description import Adapter
from livemon.link.identity import HostAddress, Remembered
from livemon.link.silence import Patience
from livemon.monitor.session import Session


async def test_bytes_become_events_and_events_become_numbers(bluez) -> None:
    service = await bluez((STRAP, OXI))
    witness = Witness()

    async with supervised((STRAP, OXI), witness):
        await subscribed(service, STRAP, OXI)
        service.send(STRAP.address, MEASUREMENT, beat(158))
        service.send(OXI.address, DEMO.characteristic, oxygen(1))
        await witness.until(lambda: len(witness.notified()) == 3)  # and the battery

    session = Session(
        Head(
            started_utc="2026-01-01T00:00:00+00:00",
            session="invented",
            athletes=(Athlete("a1", "Invented"),),
            sensors=(
                Sensor(STRAP.address, "strap"),
                Sensor(OXI.address, "oximeter", "invented-demo"),
            ),
            adapters=(("invented-demo", DEMO_TEXT),),
            assigned=(
                Assigned(0, STRAP.address, "a1"),
                Assigned(0, OXI.address, "a1", ("left thigh",)),
            ),
        )
    )
    start_ns = witness.events[0].t_ns
    for event in witness.events:
        session.feed(replace(event, t_ns=event.t_ns - start_ns))
    (lane,) = session.snapshot().lanes
    assert lane.state.heart_rate.bpm == 158
    assert lane.state.sites[0].smo2_pct == 61.3
    assert {sensor.battery_pct for sensor in lane.sensors} == {85, None}
    assert session.snapshot().rejected == ()


async def test_a_drop_is_survived_and_the_neighbour_loses_nothing(bluez) -> None:
    service = await bluez((STRAP, OXI))
    witness = Witness()
    sent: list[bytes] = []

    async with supervised((STRAP, OXI), witness) as supervision:
        await subscribed(service, STRAP, OXI)
        for round_ in range(3):
            service.send(STRAP.address, MEASUREMENT, beat(100 + round_))
            await witness.until(lambda r=round_: beat(100 + r) in witness.payloads(STRAP.address))
            service.drop(STRAP.address)
            while not service.subscribed(STRAP.address, MEASUREMENT):
                sent.append(oxygen(len(sent), tenths=600 + len(sent)))
                assert service.send(OXI.address, DEMO.characteristic, sent[-1])
                await asyncio.sleep(0.02)  # the oximeter's own rhythm
        service.send(STRAP.address, MEASUREMENT, beat(200))
        await witness.until(lambda: beat(200) in witness.payloads(STRAP.address))
        status = {one.sensor: one for one in supervision.statuses()}

    assert status[STRAP.address].generation == 4
    assert status[OXI.address].generation == 1
    assert witness.payloads(STRAP.address) == [beat(100), beat(101), beat(102), beat(200)]
    assert witness.payloads(OXI.address) == sent
    assert witness.links(STRAP.address) == [LinkUp, LinkDown] * 4
    assert witness.links(OXI.address) == [LinkUp, LinkDown]


async def test_scans_and_connections_never_overlap(bluez) -> None:
    """The service refuses overlaps, as the harder kind of adapter does, and counts them."""
    crowd = [
        replace(STRAP, address=f"C0:00:00:00:01:{number:02X}", connect_delay_s=0.01)
        for number in range(16)
    ]
    service = await bluez(crowd)

    async with supervised(crowd, Witness()):
        await subscribed(service, *crowd)
        for peripheral in crowd[:8]:
            service.drop(peripheral.address)
        await subscribed(service, *crowd)

    assert service.overlaps == 0


async def test_nothing_is_held_after_the_end(bluez) -> None:
    service = await bluez((STRAP, OXI))
    async with bleak.BleakScanner():
        pass  # bleak now has the task that it keeps for the life of the loop
    before = asyncio.all_tasks()

    async with supervised((STRAP, OXI), Witness()):
        await subscribed(service, STRAP, OXI)

    assert not service.connected(STRAP.address)
    assert not service.connected(OXI.address)
    assert not service.scanning
    assert asyncio.all_tasks() == before


async def names_on(bus_address: str) -> int:
    """Return how many connections the bus has."""
    bus = await MessageBus(bus_address).connect()
    daemon = "org.freedesktop.DBus"
    reply = await bus.call(Message(daemon, "/org/freedesktop/DBus", daemon, "ListNames"))
    bus.disconnect()
    await bus.wait_for_disconnect()
    return sum(name.startswith(":") for name in reply.body[0])


async def test_dropped_links_leave_no_connection_to_the_bus_behind(bluez, bluez_bus) -> None:
    """Bleak keeps the bus connection of a link that dropped until it is told to disconnect."""
    service = await bluez((STRAP,))
    witness = Witness()

    async with supervised((STRAP,), witness):
        await subscribed(service, STRAP)
        before = await names_on(bluez_bus)
        for round_ in range(3):
            service.send(STRAP.address, MEASUREMENT, beat(100 + round_))
            await witness.until(lambda r=round_: len(witness.payloads(STRAP.address)) == r + 1)
            service.drop(STRAP.address)
            await subscribed(service, STRAP)

        assert await names_on(bluez_bus) == before


async def test_a_sensor_that_was_forgotten_is_found_again(bluez) -> None:
    service = await bluez((STRAP,))
    witness = Witness()

    async with supervised((STRAP,), witness):
        await subscribed(service, STRAP)
        service.vanish(STRAP.address)
        await witness.until(lambda: LinkDown in witness.links(STRAP.address))
        service.appear(STRAP.address)
        await subscribed(service, STRAP)

    assert witness.links(STRAP.address) == [LinkUp, LinkDown] * 2


async def test_refused_connections_are_tried_again(bluez) -> None:
    service = await bluez((STRAP,))
    service.fail_connect(STRAP.address, times=2)

    async with supervised((STRAP,), Witness()) as supervision:
        await subscribed(service, STRAP)
        (status,) = supervision.statuses()

    assert (status.counters.failed, status.counters.opened) == (2, 1)


async def test_a_link_that_falls_silent_is_opened_afresh(bluez) -> None:
    """The system goes on calling it connected; only the age of the data tells."""
    service = await bluez((STRAP,))
    witness = Witness()
    impatient = Patience(stale_after_ns=50_000_000, dead_after_ns=100_000_000)

    async with supervised((STRAP,), witness, lambda p: replace(plan_for(p), patience=impatient)):
        await witness.until(lambda: witness.links(STRAP.address)[:3] == [LinkUp, LinkDown, LinkUp])

        assert service.connected(STRAP.address)


async def test_a_sensor_read_through_a_socket_works_as_well(bluez) -> None:
    service = await bluez((OXI,))
    witness = Witness()

    async with supervised((OXI,), witness, lambda p: replace(plan_for(p), acquire=True)):
        for number in range(2):
            await subscribed(service, OXI)
            assert service.acquired(OXI.address, DEMO.characteristic)
            service.send(OXI.address, DEMO.characteristic, oxygen(number))
            await witness.until(lambda n=number: oxygen(n) in witness.payloads(OXI.address))
            service.drop(OXI.address)
            await service.until(lambda: not service.connected(OXI.address))

    assert witness.payloads(OXI.address) == [oxygen(0), oxygen(1)]


async def test_bluetooth_switched_off_and_on_is_told_and_survived(bluez) -> None:
    service = await bluez((STRAP,))
    witness = Witness()

    async with supervised((STRAP,), witness) as supervision:
        await subscribed(service, STRAP)
        service.power_off()
        await witness.until(lambda: LinkDown in witness.links(STRAP.address))
        while not supervision.trouble:  # noqa: ASYNC110 - looked at as the Kit page does
            await asyncio.sleep(0.01)
        told = supervision.trouble
        service.power_on()
        await subscribed(service, STRAP)

        assert "switched off" in told
        assert supervision.trouble == ""


KILLED_WHILE_LINKED = """
import asyncio, os, signal, sys
import bleak

async def main():
    device = await bleak.BleakScanner.find_device_by_address(sys.argv[1])
    await bleak.BleakClient(device).connect()
    os.kill(os.getpid(), signal.SIGKILL)

asyncio.run(main())
"""


async def test_a_link_left_behind_by_a_killed_run_is_taken_over(bluez) -> None:
    """Its sensor does not advertise, so no scan would ever find it."""
    service = await bluez((STRAP,))
    process = await asyncio.create_subprocess_exec(
        sys.executable, "-c", KILLED_WHILE_LINKED, STRAP.address
    )
    await process.wait()
    assert service.connected(STRAP.address)
    witness = Witness()

    async with supervised((STRAP,), witness):
        await subscribed(service, STRAP)
        service.send(STRAP.address, MEASUREMENT, beat(99))
        await witness.until(lambda: witness.payloads(STRAP.address) == [beat(99)])

    assert not service.connected(STRAP.address)


async def test_a_full_adapter_leaves_the_links_that_stand_alone(bluez) -> None:
    service = await bluez((STRAP, OXI), Adapter(max_links=1, advertising_interval_s=0.02))
    witness = Witness()

    async with supervised((STRAP,), witness) as supervision:
        await subscribed(service, STRAP)
        supervision.remember(
            Remembered(OXI.address, OXI.name, addresses=(HostAddress(HOST, OXI.address),))
        )
        supervision.keep(plan_for(OXI))
        await service.until(lambda: service.scanning)
        service.send(STRAP.address, MEASUREMENT, beat(99))
        await witness.until(lambda: witness.payloads(STRAP.address) == [beat(99)])
        await supervision.release(STRAP.address)
        await subscribed(service, OXI)

    assert witness.links(OXI.address) == [LinkUp, LinkDown]
