"""What goes wrong with a link is read on the Kit page, with what to do."""

import asyncio

import pytest
from kit_session import equip, run_kit

from livemon.app.gym import Mishap, gym_of
from livemon.app.kit_desk import KitDesk
from livemon.app.live import Live
from livemon.link.simulated.faults import Fault
from livemon.synthetic.sessions import TRAININGS
from livemon.view.kit_facts import Standing
from livemon.view.kit_present import present_kit
from livemon.view.settings import ViewSettings


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


@pytest.mark.parametrize(
    ("fault", "words"),
    [
        (Fault.OFF, ("Bluetooth is switched off. Switch it on", "goes on by itself")),
        (Fault.NOT_ALLOWED, ("not allowed to use Bluetooth", "Privacy")),
    ],
)
def test_bluetooth_itself_is_said_to_be_missing_and_comes_back_by_itself(
    fault: Fault, words: tuple[str, ...]
) -> None:
    gym = gym_of(
        TRAININGS["over-the-line"], 2, 3, (Mishap(fault, "1-thigh", at_s=25.0, for_s=30.0),)
    )

    async def doing(desk: KitDesk, live: Live) -> None:
        await equip(desk, gym)
        await asyncio.sleep(40)
        model = present_kit(desk.facts(), live.latest, ViewSettings())
        assert all(part in model.trouble for part in words)
        assert all(model.trouble in one.hint for one in model.worn)
        await asyncio.sleep(30)
        model = present_kit(desk.facts(), live.latest, ViewSettings())
        assert model.trouble == ""
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
