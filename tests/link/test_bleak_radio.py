"""The radio over bleak: a notice before first use, bounds on every call, no link left open."""

import asyncio
from typing import Any

import bleak
import pytest
from link_gym import strap

from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.errors import LinkLost, RadioError
from livemon.link.bleak_radio import Backends, BleakRadio
from livemon.link.radio import Channel, Opening, Sighting
from livemon.link.simulated.air import Air
from livemon.link.simulated.backends import SimulatedClient, SimulatedScanner, backends
from livemon.link.simulated.sensor import SimulatedSensor
from livemon.link.simulated.virtual_loop import run_virtually
from livemon.link.trouble import CharacteristicMissing


def radio_of(air: Air, system: str = "Linux", said: list[str] | None = None) -> BleakRadio:
    log = [] if said is None else said
    return BleakRadio(lambda: 7, system=system, announce=log.append, backends=backends(air))


async def sighting_of(radio: BleakRadio, wait_s: float = 2.0) -> Sighting:
    heard: list[Sighting] = []
    async with radio.scanning(heard.append):
        await asyncio.sleep(wait_s)
    return heard[0]


def test_a_notice_goes_out_before_the_first_scan_on_macos_and_only_once() -> None:
    """Where it may not ask, macOS ends the process, so the notice must come first."""
    said: list[str] = []
    order: list[str] = []

    class Watched(SimulatedScanner):
        def __init__(self, *arguments: Any, **options: Any) -> None:
            order.extend(said)
            super().__init__(*arguments, **options)

    async def main() -> None:
        Watched.air = Air()
        radio = BleakRadio(
            lambda: 0, system="Darwin", announce=said.append, backends=Backends(scanner=Watched)
        )
        for _ in range(2):
            async with radio.scanning(lambda _: None):
                pass

    run_virtually(main())

    assert len(said) == 1
    assert "Privacy & Security" in said[0]
    assert order[0] == said[0]


def test_no_notice_elsewhere() -> None:
    said: list[str] = []

    async def main() -> None:
        async with radio_of(Air(), "Linux", said).scanning(lambda _: None):
            pass

    run_virtually(main())

    assert said == []


def test_notifications_are_stamped_and_copied() -> None:
    async def main() -> None:
        air, got = Air(), []
        air.add(strap(1))
        radio = radio_of(air)
        link = await radio.open_link(await sighting_of(radio), Opening(), lambda: None)
        await link.subscribe(
            Channel(HEART_RATE_MEASUREMENT), lambda *one: got.append(one), acquire=False
        )
        await asyncio.sleep(1.5)
        await link.close()
        assert got
        assert all(t_ns == 7 and type(payload) is bytes for t_ns, payload in got)
        air.close()

    run_virtually(main())


def test_an_opening_that_is_cancelled_leaves_no_link() -> None:
    async def main(cancel_after_s: float) -> None:
        air, sensor = Air(), strap(1)
        air.add(sensor)
        radio = radio_of(air)
        sighting = await sighting_of(radio)
        opening = asyncio.create_task(radio.open_link(sighting, Opening(), lambda: None))
        await asyncio.sleep(cancel_after_s)
        opening.cancel()
        await asyncio.wait({opening})
        if not opening.cancelled():  # it was through already
            await opening.result().close()
        assert air.links == 0
        air.close()
        assert asyncio.all_tasks() == {asyncio.current_task()}

    for step in range(18):
        run_virtually(main(step * 0.01))


def test_a_scan_that_does_not_start_is_stopped_all_the_same() -> None:
    stopped: list[str] = []

    class Stuck(SimulatedScanner):
        async def start(self) -> None:
            await super().start()
            await asyncio.get_running_loop().create_future()

        async def stop(self) -> None:
            stopped.append("stopped")
            await super().stop()

    async def main() -> None:
        Stuck.air = Air()
        radio = BleakRadio(
            lambda: 0, system="Linux", announce=print, backends=Backends(scanner=Stuck)
        )
        with pytest.raises(LinkLost, match="starting a scan took too long"):
            async with asyncio.timeout(11), radio.scanning(lambda _: None):
                pass

    run_virtually(main())

    assert stopped == ["stopped"]


def test_an_opening_is_given_up_in_time() -> None:
    async def main() -> float:
        air, sensor = Air(), strap(1)
        air.add(sensor)
        radio = radio_of(air)
        sighting = await sighting_of(radio)
        sensor.troubles.opening_hangs = True
        began_s = asyncio.get_running_loop().time()
        with pytest.raises(LinkLost, match="opening the link took too long"):
            await radio.open_link(sighting, Opening(within_s=6.0), lambda: None)
        air.close()
        return asyncio.get_running_loop().time() - began_s

    assert run_virtually(main()) == pytest.approx(6.0, abs=0.1)


def test_bluetooth_off_is_told_as_such() -> None:
    async def main() -> None:
        air = Air()
        air.switch_off()
        radio = radio_of(air)
        with pytest.raises(RadioError, match="switched off"):
            async with radio.scanning(lambda _: None):
                pass

    run_virtually(main())


def test_the_same_characteristic_in_two_services_is_told_apart() -> None:
    """A UUID that stands twice is refused by bleak itself."""
    uuid, first, second = (f"7a0c000{n}-6e1d-4c55-9b7e-10f3c2a94e11" for n in (1, 2, 3))

    async def main() -> None:
        air = Air()
        twice = SimulatedSensor("C0:00:00:00:00:01", "two", {first: (uuid,), second: (uuid,)})
        air.add(twice)
        radio = radio_of(air)
        link = await radio.open_link(await sighting_of(radio), Opening(), lambda: None)
        await link.subscribe(Channel(uuid, second), lambda *_: None, acquire=False)
        with pytest.raises(CharacteristicMissing):
            await link.subscribe(Channel(uuid, uuid), lambda *_: None, acquire=False)
        await link.close()
        air.close()

    run_virtually(main())


def test_what_the_plan_asks_for_reaches_bleak() -> None:
    asked: list[object] = []

    class Watched(SimulatedClient):
        def __init__(self, *arguments: Any, **options: Any) -> None:
            asked.extend((options["bluez"], options["winrt"]))
            super().__init__(*arguments, **options)

        async def connect(self, pair: bool, **options: Any) -> None:
            asked.append(pair)
            await super().connect(pair, **options)

        async def start_notify(self, *arguments: Any, **options: Any) -> None:
            asked.append(options["bluez"])
            await super().start_notify(*arguments, **options)

    async def main() -> None:
        air = Air()
        air.add(strap(1))
        Watched.air = air
        both = Backends(scanner=backends(air).scanner, client=Watched)
        radio = BleakRadio(lambda: 0, system="Linux", announce=print, adapter="hci1", backends=both)
        opening = Opening(pair=True, fresh_services=True)
        link = await radio.open_link(await sighting_of(radio), opening, lambda: None)
        await link.subscribe(Channel(HEART_RATE_MEASUREMENT), lambda *_: None, acquire=True)
        await link.close()
        air.close()

    run_virtually(main())

    assert asked == [
        {"adapter": "hci1"},
        {"use_cached_services": False},
        True,
        {"use_start_notify": False},
    ]


@pytest.mark.parametrize(("pair", "takes_s"), [(False, 5.0), (True, 60.0)])
def test_a_person_gets_time_to_answer_where_a_pairing_is_wanted(pair: bool, takes_s: float) -> None:
    """On macOS the system asks at the first call that needs the pairing."""

    class Asking(SimulatedClient):
        async def start_notify(self, *arguments: Any, **options: Any) -> None:
            await asyncio.get_running_loop().create_future()

    async def main() -> float:
        loop, air = asyncio.get_running_loop(), Air()
        air.add(strap(1))
        Asking.air = air
        both = Backends(scanner=backends(air).scanner, client=Asking)
        radio = BleakRadio(lambda: 0, system="Linux", announce=print, backends=both)
        opening = Opening(within_s=60.0, pair=pair)
        link = await radio.open_link(await sighting_of(radio), opening, lambda: None)
        began_s = loop.time()
        with pytest.raises(LinkLost, match="subscribing took too long"):
            await link.subscribe(Channel(HEART_RATE_MEASUREMENT), lambda *_: None, acquire=False)
        waited_s = loop.time() - began_s
        await link.close()
        air.close()
        return waited_s

    assert run_virtually(main()) == pytest.approx(takes_s, abs=0.1)


def test_bleak_is_looked_up_when_it_is_called(monkeypatch: pytest.MonkeyPatch) -> None:
    """A Bluetooth proxy may have put its own classes into bleak."""
    made: list[str] = []

    class Proxy(bleak.BleakScanner):
        def __init__(self, *arguments: Any, **options: Any) -> None:
            made.append("proxy")
            super().__init__(*arguments, **options)

    monkeypatch.setattr(bleak, "BleakScanner", Proxy)

    async def main() -> None:
        async with radio_of(Air()).scanning(lambda _: None):
            pass

    run_virtually(main())

    assert made == ["proxy"]
