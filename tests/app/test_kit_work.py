"""A foot sensor on the Kit page: found, worn beside a strap, given a wheel, remembered."""

import asyncio
from pathlib import Path

from kit_session import address_of, found, run_kit

from livemon.app.gym import Gym, gym_of
from livemon.app.kit_desk import KitDesk
from livemon.app.live import Live
from livemon.events import Assigned
from livemon.record.reader import open_recording
from livemon.series.effort import Effort
from livemon.synthetic.effort import Device
from livemon.synthetic.sessions import OVER_THE_LINE
from livemon.view.kit_facts import STRAP, WORK, Standing


def gym_with_foot() -> Gym:
    return gym_of(OVER_THE_LINE, 2, 3, work={1: Device.FOOT})


def test_a_foot_sensor_is_worn_beside_the_strap_and_read(tmp_path: Path) -> None:
    gym, path = gym_with_foot(), tmp_path / "s.jsonl"

    async def doing(desk: KitDesk, live: Live) -> None:
        facts = await found(desk, 7)
        foot = address_of(gym, "1-foot")
        (seen,) = [one for one in facts.nearby if one.address == foot]
        assert (seen.looks_like, seen.reading) == (("foot sensor",), WORK)
        ada, ben = desk.add_athlete("Ada", None), desk.add_athlete("Ben", None)
        desk.wear(address_of(gym, "1-strap"), STRAP, ada, "")
        desk.wear(foot, WORK, ada, "", 2.1)
        desk.wear(address_of(gym, "2-strap"), STRAP, ben, "")
        await asyncio.sleep(75)
        assert desk.facts().outcome == ()
        strap, worn, _ = desk.facts().in_use
        assert (strap.reading, worn.reading, worn.wheel_m) == (STRAP, WORK, 2.1)
        assert worn.standing is Standing.LIVE
        assert live.latest is not None
        first, second = live.latest.lanes
        assert [one.sensor for one in first.effort if one.effort is Effort.SPEED] == [worn.sensor]
        assert first.state.heart_rate.bpm is not None
        assert second.effort == ()
        desk.assign(worn.sensor, ben, "", 2.2)
        await asyncio.sleep(5)
        desk.wear(address_of(gym, "1-strap"), STRAP, ada, "")
        await asyncio.sleep(1)
        assert "in use already" in desk.facts().outcome[0]

    kit = run_kit(doing, gym=gym, path=path)

    (work,) = [one for one in kit.saved if one.work]
    assert (work.adapter, work.wheel_m) == (None, 2.2)
    given = [e for e in open_recording(path).events() if isinstance(e, Assigned)]
    assert [one.wheel_m for one in given if one.sensor == work.sensor] == [2.1, 2.2]


def test_a_remembered_one_offers_itself_with_its_wheel() -> None:
    gym = gym_with_foot()

    async def doing(desk: KitDesk, live: Live) -> None:
        await found(desk, 7)
        desk.wear(address_of(gym, "1-foot"), WORK, desk.add_athlete("Ada", None), "", 2.1)
        await asyncio.sleep(5)
        (worn,) = desk.facts().in_use
        desk.take_off(worn.sensor)
        await asyncio.sleep(10)
        (again,) = [one for one in desk.facts().nearby if one.key == worn.sensor]
        assert (again.reading, again.wheel_m) == (WORK, 2.1)

    run_kit(doing, gym=gym)
