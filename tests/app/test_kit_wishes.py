"""Names, fat layers and strangers: what people ask for on the Kit page, on the simulated radio."""

import asyncio
from pathlib import Path

from kit_session import address_of, equip, found, run_kit, two_athletes

from livemon.app.kit_asking import offer_words
from livemon.app.kit_desk import KitDesk
from livemon.app.kit_people import People
from livemon.app.live import Live
from livemon.decode.uuids import sig_uuid
from livemon.events import AthleteChanged, SensorAdded
from livemon.record.reader import open_recording
from livemon.synthetic.training import ADAPTER
from livemon.view.kit_facts import Standing


def test_a_renamed_sensor_keeps_its_data_and_its_name_is_remembered(tmp_path: Path) -> None:
    gym, path = two_athletes(), tmp_path / "kit.jsonl"

    async def doing(desk: KitDesk, live: Live) -> None:
        await equip(desk, gym)
        await asyncio.sleep(5)
        sensor, other = desk.facts().in_use[1], desk.facts().in_use[2]
        desk.rename_sensor(sensor.sensor, " Thigh 1 ")
        await asyncio.sleep(5)
        assert desk.facts().in_use[1].name == "Thigh 1"
        assert desk.facts().in_use[1].standing is Standing.LIVE
        assert live.latest is not None
        assert "Thigh 1" in {one.name for one in live.latest.lanes[0].sensors}
        desk.rename_sensor(other.sensor, "thigh 1")
        await asyncio.sleep(1)
        assert desk.facts().outcome == ("Thigh 1 is in use; give this one another name.",)
        desk.rename_sensor(other.sensor, " ")
        await asyncio.sleep(1)
        assert desk.facts().outcome[0].startswith("A sensor needs a name")

    kit = run_kit(doing, gym=gym, path=path)

    assert "Thigh 1" in {one.name for one in kit.saved}
    names = [e.sensor.name for e in open_recording(path).events() if isinstance(e, SensorAdded)]
    assert names.count("Thigh 1") == 1


def test_a_fat_layer_is_kept_with_the_person_and_written_down(tmp_path: Path) -> None:
    gym, path, people = two_athletes(), tmp_path / "kit.jsonl", People()

    async def doing(desk: KitDesk, live: Live) -> None:
        ada = desk.add_athlete("Ada", (142, 154), 9.5)
        await asyncio.sleep(1)
        (there,) = desk.facts().there
        assert (there.name, there.adipose_mm) == ("Ada", 9.5)
        desk.change_athlete(ada, "Ada L", (142, 154), None)
        await asyncio.sleep(1)
        assert desk.facts().there[0].name == "Ada L"
        assert desk.facts().there[0].adipose_mm is None
        desk.change_athlete(ada, "Ada L", (142, 154), 4.0)
        await asyncio.sleep(1)

    run_kit(doing, gym=gym, path=path, people=people)

    assert [one.athlete.adipose_mm for one in people.roster] == [4.0]
    changes = [e.athlete for e in open_recording(path).events() if isinstance(e, AthleteChanged)]
    assert [one.adipose_mm for one in changes] == [9.5, None, 4.0]


def test_a_stranger_that_is_asked_can_then_be_worn() -> None:
    gym = two_athletes()
    thigh = dict(gym.sensors)["1-thigh"]
    thigh.advertised = ()

    async def doing(desk: KitDesk, live: Live) -> None:
        desk.list_everything(True)
        await found(desk, 6)
        at = address_of(gym, "1-thigh")
        (device,) = [one for one in desk.facts().nearby if one.address == at]
        assert device.reading is None
        desk.ask_what(device.key)
        await asyncio.sleep(5)
        assert desk.facts().outcome == (
            f"It can be read as oximeter ({ADAPTER}). Say who wears it.",
        )
        (device,) = [one for one in desk.facts().nearby if one.address == at]
        assert device.reading == ADAPTER
        ada = desk.add_athlete("Ada", None)
        desk.wear(device.key, ADAPTER, ada, "left thigh")
        await asyncio.sleep(10)
        assert [one.standing for one in desk.facts().in_use] == [Standing.LIVE]
        desk.ask_what("somebody who left")
        await asyncio.sleep(1)
        assert "no longer there" in desk.facts().outcome[0]

    run_kit(doing, gym=gym)


def test_what_a_stranger_offers_is_said_for_whoever_writes_an_adapter() -> None:
    own = [f"7a0c000{n}-6e1d-4c55-9b7e-10f3c2a94e11" for n in range(6)]

    assert "phone or a watch" in offer_words((), frozenset({sig_uuid(0x2A19)}))
    words = offer_words((), frozenset({sig_uuid(0x2A19), *own}))
    assert all(uuid in words for uuid in own[:4])
    assert own[4] not in words
    assert "and 2 more" in words
