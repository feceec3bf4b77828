"""What the Kit page keeps for the next session: people, what they wear, adapters."""

import asyncio
from dataclasses import replace
from pathlib import Path

from kit_session import EMPTY, address_of, equip, found, run_kit, two_athletes

from livemon.app.kit_adapters import KitAdapters
from livemon.app.kit_desk import KitDesk
from livemon.app.kit_kept import load_adapters, load_roster, save_adapter, save_roster
from livemon.app.kit_people import People
from livemon.app.live import Live
from livemon.decode.shipped import shipped_adapters


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
