"""From an empty kit to two athletes' data, by commands alone, on the simulated radio."""

import asyncio
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest
from kit_session import EMPTY, address_of, equip, found, run_kit, two_athletes

from livemon.app.gym import HOST
from livemon.app.headless import snapshots_of
from livemon.app.kit_adapters import KitAdapters
from livemon.app.kit_desk import KitDesk
from livemon.app.kit_room import KitRoom
from livemon.app.live import Live
from livemon.decode.shipped import shipped_adapters
from livemon.events import Assigned, Mark, Notification, SensorAdded
from livemon.link.clocks import Clocks
from livemon.link.identity import Remembered
from livemon.link.plan import heart_rate_plan
from livemon.monitor.snapshot import Trust
from livemon.record.reader import open_recording
from livemon.synthetic.training import ADAPTER
from livemon.view.kit_facts import STRAP, Standing


def test_from_an_empty_kit_to_the_data_of_two_athletes_and_back(tmp_path: Path) -> None:
    gym, path = two_athletes(), tmp_path / "kit.jsonl"

    async def doing(desk: KitDesk, live: Live) -> None:
        ada, ben = await equip(desk, gym)
        await asyncio.sleep(20)
        facts = desk.facts()
        assert [one.standing for one in facts.in_use] == [Standing.LIVE] * 6
        assert facts.outcome == ()
        assert {one.athlete for one in facts.in_use} == {ada, ben}
        assert live.latest is not None
        assert [lane.name for lane in live.latest.lanes] == ["Ada", "Ben"]
        assert live.latest.lanes[0].band_bpm == (142, 154)
        for lane in live.latest.lanes:
            assert lane.state.heart_rate.trust is Trust.GOOD
            assert [site.trust for site in lane.state.sites] == [Trust.GOOD] * 2

    kit = run_kit(doing, gym=gym, path=path)

    recording = open_recording(path)
    assert list(snapshots_of(recording.head, recording.events())) == kit.lines
    assert recording.problems.bad == 0
    senders = {e.sensor for e in open_recording(path).events() if isinstance(e, Notification)}
    assert len(senders) == 6
    assert {one.name for one in kit.saved} == {sensor.name for _, sensor in gym.sensors}


def test_no_sample_comes_before_its_sensor_was_given_to_somebody(tmp_path: Path) -> None:
    gym, path = two_athletes(), tmp_path / "kit.jsonl"

    async def doing(desk: KitDesk, live: Live) -> None:
        await equip(desk, gym)
        await asyncio.sleep(10)

    run_kit(doing, gym=gym, path=path)

    added, given = set[str](), set[str]()
    for event in open_recording(path).events():
        match event:
            case SensorAdded():
                added.add(event.sensor.sensor)
            case Assigned():
                assert event.sensor in added
                given.add(event.sensor)
            case Notification():
                assert event.sensor in given
    assert len(given) == 6


def test_a_wish_to_look_around_before_the_radio_is_there_is_kept() -> None:
    gym = two_athletes()
    live = Live(
        EMPTY,
        (),
        lambda: gym.radio(lambda: 0),
        (),
        host=HOST,
        now_ns=lambda: 0,
        chance=Random(5),
        clocks=lambda: Clocks(0, 0, None),
    )
    adapters = KitAdapters(shipped_adapters())
    room = KitRoom(live, EMPTY, adapters, host=HOST, now_ns=lambda: 0, new_id=str)

    KitDesk(room, lambda wish: wish() and None).look_around(True)

    assert room.facts.outcome == ()


def test_looking_around_ends_with_the_wish() -> None:
    """Each scan costs packets of the links that stand, so none goes on unasked."""
    gym = two_athletes()

    async def doing(desk: KitDesk, live: Live) -> None:
        await found(desk, 6)
        desk.look_around(False)
        await asyncio.sleep(90)
        assert desk.facts().nearby == ()
        assert not desk.facts().looking
        await found(desk, 6)

    run_kit(doing, gym=gym)


def test_taken_off_means_free_and_nearby_again() -> None:
    gym = two_athletes()

    async def doing(desk: KitDesk, live: Live) -> None:
        await equip(desk, gym)
        await asyncio.sleep(10)
        gone = desk.facts().in_use[0]
        desk.take_off(gone.sensor)
        desk.look_around(True)
        await asyncio.sleep(10)
        assert live.latest is not None
        worn = [one.sensor for one in live.latest.lanes[0].sensors]
        assert gone.sensor not in worn
        facts = desk.facts()
        assert gone.sensor not in {one.sensor for one in facts.in_use}
        assert [one.remembered for one in facts.nearby] == [gone.name]
        assert len(live.statuses()) == 5
        again = facts.nearby[0]
        assert again.reading == gone.reading
        assert gone.athlete is not None
        desk.wear(again.key, again.reading or STRAP, gone.athlete, "")
        await asyncio.sleep(10)
        assert {one.standing for one in desk.facts().in_use} == {Standing.LIVE}

    run_kit(doing, gym=gym)


def test_two_in_one_place_are_refused_in_words() -> None:
    gym = two_athletes()

    async def doing(desk: KitDesk, live: Live) -> None:
        await found(desk, 6)
        ada = desk.add_athlete("Ada", None)
        desk.wear(address_of(gym, "1-strap"), STRAP, ada, "")
        desk.wear(address_of(gym, "2-strap"), STRAP, ada, "")
        await asyncio.sleep(1)
        assert "wears" in desk.facts().outcome[0]
        assert len(desk.facts().in_use) == 1
        desk.add_athlete("ada", None)
        await asyncio.sleep(1)
        assert desk.facts().outcome == ("Ada is there already.",)
        ben = desk.add_athlete("Ben", None)
        desk.change_athlete(ben, "ADA", None)
        await asyncio.sleep(1)
        assert desk.facts().outcome == ("Ada is there already; give them a name of their own.",)
        desk.wear(address_of(gym, "2-strap"), STRAP, "nobody", "")
        await asyncio.sleep(1)
        assert desk.facts().outcome == ("Choose who wears it, or type a name to add somebody.",)
        desk.wear(address_of(gym, "1-forearm"), ADAPTER, ada, " ")
        await asyncio.sleep(1)
        assert desk.facts().outcome[0].startswith("Say on which muscle")
        desk.wear(address_of(gym, "1-forearm"), ADAPTER, ada, "left thigh")
        desk.wear(address_of(gym, "2-forearm"), ADAPTER, ada, "left thigh")
        await asyncio.sleep(1)
        assert "sits on Ada's left thigh already" in desk.facts().outcome[0]
        assert len(desk.facts().in_use) == 2

    run_kit(doing, gym=gym)


def test_two_straps_with_one_name_ask_and_the_chosen_one_is_read() -> None:
    """A name was given on the command line, and two carry it: no sample until a person says."""
    gym = two_athletes()
    first, second = dict(gym.sensors)["1-strap"], dict(gym.sensors)["2-strap"]
    second.name = first.name
    strap = Remembered("strap-x", "X", first.name)
    head = replace(
        EMPTY,
        athletes=gym.head.athletes[:1],
        sensors=(replace(gym.head.sensors[0], sensor="strap-x"),),
        assigned=(Assigned(0, "strap-x", "a1"),),
    )

    async def doing(desk: KitDesk, live: Live) -> None:
        await asyncio.sleep(10)
        (asking,) = desk.facts().in_use
        assert asking.standing is Standing.ASKING
        assert {one.address for one in asking.candidates} == {first.address, second.address}
        assert live.latest is not None
        assert live.latest.lanes[0].state.heart_rate.bpm is None
        desk.choose("strap-x", second.address)
        await asyncio.sleep(10)
        assert desk.facts().in_use[0].standing is Standing.LIVE

    kit = run_kit(doing, gym=gym, head=head, plans=(heart_rate_plan("strap-x"),), registry=(strap,))

    assert [one.address for one in kit.saved[0].addresses] == [second.address]


def test_an_adapter_file_is_checked_and_offered(tmp_path: Path) -> None:
    good, bad = tmp_path / "mine.toml", tmp_path / "bad.toml"
    good.write_text(
        shipped_adapters()["invented-plain"].replace("invented-plain", "mine"), encoding="utf-8"
    )
    bad.write_text("livemon_adapter = 1\n", encoding="utf-8")

    async def doing(desk: KitDesk, live: Live) -> None:
        desk.add_adapter(str(good))
        await asyncio.sleep(1)
        assert "mine" in desk.facts().adapters
        assert desk.facts().outcome[0] == "Adapter “mine” can be chosen now."
        assert any("no contact field" in line for line in desk.facts().outcome)
        desk.add_adapter(str(bad))
        await asyncio.sleep(1)
        assert "bad.toml" in desk.facts().outcome[0]

    run_kit(doing, gym=two_athletes())


def test_a_baseline_is_taken_marked_and_shown(tmp_path: Path) -> None:
    """The invented training begins with rest, so 60 s are enough."""
    gym, path = two_athletes(), tmp_path / "kit.jsonl"

    async def doing(desk: KitDesk, live: Live) -> None:
        ada, _ = await equip(desk, gym)
        await asyncio.sleep(5)
        desk.start_baseline(ada)
        await asyncio.sleep(2)
        (resting,) = desk.facts().resting
        assert resting.running
        await asyncio.sleep(123)
        (resting,) = desk.facts().resting
        assert not resting.running
        levels = {site: state.level_pct for site, state in resting.sites}
        assert live.latest is not None
        for site in live.latest.lanes[0].state.sites:
            level_pct = levels[site.site]
            assert level_pct is not None
            assert site.baseline_pct == pytest.approx(level_pct, abs=0.05)
        assert all(site.baseline_pct is None for site in live.latest.lanes[1].state.sites)

    run_kit(doing, gym=gym, path=path)

    kinds = [event.kind for event in open_recording(path).events() if isinstance(event, Mark)]
    assert kinds == ["baseline_start", "baseline_result", "baseline_result", "baseline_end"]


def test_a_baseline_without_oximeter_or_given_up_sets_nothing() -> None:
    gym = two_athletes()

    async def doing(desk: KitDesk, live: Live) -> None:
        cleo = desk.add_athlete("Cleo", None)
        await asyncio.sleep(1)
        desk.start_baseline(cleo)
        await asyncio.sleep(1)
        assert desk.facts().outcome[0].startswith("A baseline needs an oximeter")
        ada, _ = await equip(desk, gym)
        await asyncio.sleep(5)
        desk.start_baseline(ada)
        await asyncio.sleep(30)
        desk.stop_baseline(ada)
        await asyncio.sleep(100)
        assert desk.facts().resting == ()
        assert live.latest is not None
        sites = [site for lane in live.latest.lanes for site in lane.state.sites]
        assert all(site.baseline_pct is None for site in sites)

    run_kit(doing, gym=gym)


def test_lines_keep_their_places_while_signals_come_and_go() -> None:
    gym = two_athletes()

    async def doing(desk: KitDesk, live: Live) -> None:
        before = [one.key for one in (await found(desk, 6)).nearby]
        sensor = dict(gym.sensors)["2-forearm"]
        sensor.rssi_dbm = -20
        await asyncio.sleep(10)
        assert [one.key for one in desk.facts().nearby] == before
        assert -20 in {one.rssi_dbm for one in desk.facts().nearby}

    run_kit(doing, gym=gym)


def test_a_baseline_leaves_out_a_muscle_from_which_the_sensor_was_moved() -> None:
    gym = two_athletes()

    async def doing(desk: KitDesk, live: Live) -> None:
        ada, _ = await equip(desk, gym)
        await asyncio.sleep(5)
        moved = next(one for one in desk.facts().in_use if one.sites == ("thigh",))
        desk.assign(moved.sensor, ada, "calf")
        await asyncio.sleep(5)
        desk.start_baseline(ada)
        await asyncio.sleep(2)
        (resting,) = desk.facts().resting
        assert {site for site, _ in resting.sites} == {"calf", "forearm"}
        assert live.latest is not None
        values = {site.site: site.trust for site in live.latest.lanes[0].state.sites}
        assert values["calf"] is Trust.GOOD
        assert "thigh" not in values

    run_kit(doing, gym=gym)
