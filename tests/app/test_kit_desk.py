"""From an empty kit to two athletes' data, by commands alone, on the simulated radio."""

import asyncio
from collections.abc import Callable, Coroutine
from dataclasses import replace
from itertools import count
from pathlib import Path
from random import Random

import pytest

from livemon.app.gym import HOST, Gym, Mishap, gym_of
from livemon.app.headless import snapshots_of
from livemon.app.kit_adapters import KitAdapters
from livemon.app.kit_desk import KitDesk
from livemon.app.kit_kept import load_adapters, load_roster, save_adapter, save_roster
from livemon.app.kit_people import People
from livemon.app.kit_room import KitRoom
from livemon.app.live import Live
from livemon.decode.shipped import shipped_adapters
from livemon.events import Assigned, Head, Mark, Notification, SensorAdded
from livemon.link.clocks import Clocks
from livemon.link.identity import Registry, Remembered
from livemon.link.plan import Plan, heart_rate_plan
from livemon.link.simulated.faults import Fault
from livemon.link.simulated.virtual_loop import VirtualTimeLoop, run_virtually
from livemon.monitor.payload import snapshot_line
from livemon.monitor.snapshot import Trust
from livemon.record.reader import open_recording
from livemon.record.writer import Journal
from livemon.synthetic.sessions import TRAININGS
from livemon.synthetic.training import ADAPTER
from livemon.view.kit_facts import STRAP, KitFacts, Standing
from livemon.view.kit_present import present_kit
from livemon.view.settings import ViewSettings

EMPTY = Head("2026-11-25T10:00:00+00:00", "kit")
#: What a person does, once the session runs.
Doing = Callable[[KitDesk, Live], Coroutine[None, None, None]]


class Kit:
    """A session that began with nothing, and what it left."""

    def __init__(self) -> None:
        self.lines: list[str] = []
        self.saved: Registry = ()


def run_kit(
    doing: Doing,
    *,
    gym: Gym,
    path: Path | None = None,
    head: Head = EMPTY,
    plans: tuple[Plan, ...] = (),
    registry: Registry = (),
    people: People | None = None,
) -> Kit:
    kit, adapters = Kit(), KitAdapters(shipped_adapters())
    journal = None if path is None else Journal(path, head, now_s=0.0)
    numbers = count(1)

    def learned(known: Registry) -> None:
        kit.saved = known

    async def run() -> None:
        loop = asyncio.get_running_loop()
        assert isinstance(loop, VirtualTimeLoop)
        live = Live(
            head,
            plans,
            lambda: gym.radio(loop.now_ns),
            registry,
            host=HOST,
            now_ns=loop.now_ns,
            chance=Random(5),
            clocks=lambda: Clocks(loop.now_ns(), loop.now_ns(), None),
            journal=journal,
            on_learned=learned,
            each_tick=lambda session: kit.lines.append(snapshot_line(session.snapshot())),
            services=frozenset(adapters.kinds()),
        )
        room = KitRoom(
            live,
            head,
            adapters,
            host=HOST,
            now_ns=loop.now_ns,
            new_id=lambda kind: f"{kind}-{next(numbers)}",
            people=people,
        )
        task = asyncio.create_task(live.run())
        await asyncio.sleep(0.1)
        await doing(KitDesk(room, lambda wish: loop.call_soon(wish) and None), live)
        task.cancel()
        await asyncio.wait({task})
        if not task.cancelled() and (error := task.exception()) is not None:
            raise error

    run_virtually(run())
    return kit


def two_athletes() -> Gym:
    return gym_of(TRAININGS["over-the-line"], athletes=2, seed=3)


def address_of(gym: Gym, sensor: str) -> str:
    return dict(gym.sensors)[sensor].address


async def found(desk: KitDesk, wanted: int) -> KitFacts:
    """Look around until so many sensors are heard."""
    desk.look_around(True)
    async with asyncio.timeout(20):
        while len(desk.facts().nearby) < wanted:  # noqa: ASYNC110 - the page polls too
            await asyncio.sleep(0.5)
    return desk.facts()


async def equip(desk: KitDesk, gym: Gym) -> tuple[str, str]:
    """Give both athletes a strap and two oximeters."""
    await found(desk, 6)
    ada = desk.add_athlete("Ada", (142, 154))
    ben = desk.add_athlete("Ben", None)
    for number, athlete in ((1, ada), (2, ben)):
        for sensor, _ in gym.sensors:
            if sensor.startswith(f"{number}-"):
                strap = sensor.endswith("strap")
                site = sensor.removeprefix(f"{number}-")
                desk.wear(address_of(gym, sensor), STRAP if strap else ADAPTER, athlete, site)
    desk.look_around(False)
    return ada, ben


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


@pytest.mark.parametrize(
    ("fault", "standing", "words"),
    [
        (Fault.HELD_ELSEWHERE, {Standing.SEARCHING}, "another device (a phone, a watch) holds"),
        (Fault.AUTHENTICATION, {Standing.REFUSED}, "Forget the sensor in the system's Bluetooth"),
        (Fault.CONTACT_LOSS, {Standing.LIVE}, "No skin contact"),
        (Fault.SLOTS_FULL, {Standing.SEARCHING, Standing.WAITING}, "may be full (5 links"),
    ],
)
def test_what_is_wrong_reaches_the_page_in_words(
    fault: Fault, standing: set[Standing], words: str
) -> None:
    gym = gym_of(
        TRAININGS["over-the-line"], 2, 3, (Mishap(fault, "1-thigh", at_s=25.0, for_s=60.0),)
    )

    async def doing(desk: KitDesk, live: Live) -> None:
        await equip(desk, gym)
        await asyncio.sleep(50)
        model = present_kit(desk.facts(), live.latest, ViewSettings())
        touched = next(one for one in model.worn if one.who == "Ada" and one.site == "thigh")
        (used,) = [one for one in desk.facts().in_use if one.sensor == touched.sensor]
        assert used.standing in standing
        assert words in touched.hint
        assert touched.needs
        assert sum(one.needs for one in model.worn) == 1
        await asyncio.sleep(60)
        if fault is not Fault.AUTHENTICATION:  # that one waits for a person
            model = present_kit(desk.facts(), live.latest, ViewSettings())
            assert not any(one.needs for one in model.worn)

    run_kit(doing, gym=gym)


def test_a_refused_sensor_is_tried_again_when_a_person_says_so() -> None:
    gym = gym_of(
        TRAININGS["over-the-line"],
        2,
        3,
        (Mishap(Fault.AUTHENTICATION, "1-thigh", at_s=25.0, for_s=10.0),),
    )

    async def doing(desk: KitDesk, live: Live) -> None:
        await equip(desk, gym)
        await asyncio.sleep(60)
        (refused,) = [one for one in desk.facts().in_use if one.standing is Standing.REFUSED]
        desk.retry(refused.sensor)
        await asyncio.sleep(10)
        assert {one.standing for one in desk.facts().in_use} == {Standing.LIVE}

    run_kit(doing, gym=gym)


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


def test_the_next_session_knows_people_and_what_they_wore(tmp_path: Path) -> None:
    """The same id, so that what is known of a person stays with them."""
    gym = two_athletes()
    first: list[str] = []

    async def before(desk: KitDesk, live: Live) -> None:
        first.extend(await equip(desk, gym))
        await asyncio.sleep(5)

    kept = run_kit(
        before, gym=gym, people=People((), lambda roster: save_roster(tmp_path, roster))
    ).saved
    again = two_athletes()

    async def after(desk: KitDesk, live: Live) -> None:
        order = [one.key for one in (await found(desk, 6)).nearby]
        await asyncio.sleep(10)
        facts = desk.facts()
        assert [one.key for one in facts.nearby] == order
        assert [one.name for one in facts.known] == ["Ada", "Ben"]
        by_address = {one.address: one.usual for one in facts.nearby}
        assert by_address[address_of(again, "1-strap")] == ("Ada", "")
        assert by_address[address_of(again, "2-forearm")] == ("Ben", "forearm")
        ada = desk.add_athlete("ada", (120, 130))
        assert ada == first[0]
        await asyncio.sleep(1)
        assert live.latest is not None
        assert live.latest.lanes[0].band_bpm == (120, 130)

    run_kit(after, gym=again, registry=kept, people=People(load_roster(tmp_path)))


def test_an_added_adapter_is_kept_for_the_next_session(tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    text = shipped_adapters()["invented-plain"].replace('"invented-plain"', '"mine"')
    file.write_text(text, encoding="utf-8")
    folder = tmp_path / "data"

    KitAdapters({}, lambda name, text: save_adapter(folder, name, text)).add(file)

    assert load_adapters(folder) == {"mine": text}
    assert KitAdapters(load_adapters(folder)).names == ("mine",)


def test_whoever_the_session_began_with_is_not_taken_for_one_person() -> None:
    """The command line calls everybody a1: today's Ada must not be next week's Ben."""
    gym, people = two_athletes(), People()
    head = replace(EMPTY, athletes=gym.head.athletes[:1])

    async def doing(desk: KitDesk, live: Live) -> None:
        desk.change_athlete("a1", "Ada", None)
        await asyncio.sleep(1)
        assert live.latest is not None
        assert live.latest.lanes[0].name == "Ada"

    run_kit(doing, gym=gym, head=head, people=people)

    assert people.roster == ()


def test_a_folder_with_nothing_in_it_knows_nobody(tmp_path: Path) -> None:
    assert load_roster(tmp_path) == ()
    assert load_adapters(tmp_path) == {}


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
