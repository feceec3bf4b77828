"""Work sensors on the Kit page: what is shown of them, what is typed, what goes out."""

from dataclasses import replace

import kit_scenes
import pytest
import scenes
from PySide6.QtWidgets import QApplication

from livemon.decode.samples import IntensitySource
from livemon.errors import UsageError
from livemon.monitor.snapshot import ArterialState, EffortState, Trust
from livemon.series.effort import Effort
from livemon.view.kit_facts import WORK, Device, InUse, KitFacts, Standing
from livemon.view.kit_model import KitModel
from livemon.view.kit_worn_words import worn_model
from livemon.view.model import Tone
from livemon.view.qt.colours import palette
from livemon.view.qt.kit_page import KitPage
from livemon.view.qt.lettering import Lettering
from livemon.view.qt.look import Look
from livemon.view.theme import DARK
from livemon.view.wheel_entry import read_wheel_m, wheel_words

POD = InUse("p1", "Pod", WORK, "a1", (), Standing.LIVE, 70, wheel_m=2.105)


def effort(sensor: str, speed: float, trust: Trust = Trust.GOOD) -> EffortState:
    age_s = 1.0 if trust is Trust.GOOD else 9.0
    return EffortState(Effort.SPEED, speed, age_s, trust, IntensitySource.RUNNING, sensor)


LANE = replace(
    scenes.lane(scenes.site("left thigh", 62), name="Ada", athlete="a1", bout=None, bouts=()),
    effort=(effort("p1", 3.5),),
)


def test_its_own_value_is_shown_with_its_unit() -> None:
    worn = worn_model(POD, LANE, battery_low_pct=15, adipose_mm=12.0)

    assert (worn.site, worn.value.replace("\N{NO-BREAK SPACE}", " ")) == ("work", "3.50 m/s")
    assert (worn.tone, worn.wheel) == (Tone.FRESH, "2.105")
    assert worn.caution == ""  # of a fat layer: it sits on no muscle


def test_another_sensors_value_is_not() -> None:
    other = replace(LANE, effort=(effort("p2", 3.5),))

    assert worn_model(POD, other, battery_low_pct=15).tone is Tone.ABSENT


def test_a_pulse_oximeter_shows_saturation_as_such() -> None:
    finger = replace(LANE, effort=(), arterial=ArterialState(97.0, 61.0, 1.0, Trust.GOOD))

    assert "SpO₂ 97" in worn_model(POD, finger, battery_low_pct=15).value


@pytest.mark.parametrize(
    ("typed", "wheel_m"), [("2.105", 2.105), (" 2,1 m", 2.1), ("0.1", 0.1), ("4", 4.0)]
)
def test_a_wheel_is_read_in_metres(typed: str, wheel_m: float) -> None:
    assert read_wheel_m(typed) == wheel_m
    assert read_wheel_m(wheel_words(wheel_m)) == wheel_m


@pytest.mark.parametrize("typed", ["2105", "210.5", "0.09", "4.01", "-2", "", "two", "1e0"])
def test_what_is_no_wheel_is_refused_with_an_example(typed: str) -> None:
    with pytest.raises(UsageError, match=r"2\.105"):
        read_wheel_m(typed)


def model() -> KitModel:
    device = Device("0A:09", "POD-9", "0A:00:00:00:01:09", -50, ("foot sensor",), WORK)
    met = Device("w1", "Wheel", reading=WORK, remembered="Wheel", wheel_m=2.2)
    facts = KitFacts(True, nearby=(device, met), in_use=(POD,), adapters=("invented-demo",))
    return kit_scenes.model(facts, kit_scenes.snapshot(LANE))


@pytest.fixture
def page(application: QApplication) -> KitPage:
    made = KitPage(Look(DARK, Lettering(), True), kit_scenes.Asked())
    made.setPalette(palette(DARK))
    made.resize(1366, 768)
    made.show()
    made.show_model(model())
    application.processEvents()
    return made


def choose(page: KitPage, row: int, *, worn: bool = False) -> None:
    shown = page.worn if worn else page.nearby
    shown.setCurrentIndex(shown.model().index(row))


def asked(page: KitPage) -> list[tuple[object, ...]]:
    commands = page.form._commands
    assert isinstance(commands, kit_scenes.Asked)
    return commands.list[1:]


def test_it_is_given_to_an_athlete_with_its_wheel(page: KitPage) -> None:
    choose(page, 0)
    assert page.form.reading.reading == WORK
    assert page.form.wheel.isEnabled()
    assert not page.form.site.isEnabled()
    page.form.who.setEditText("Ada")
    page.form.wheel.setText("2,105")
    page.form.use.click()

    assert asked(page) == [("wear", "0A:09", WORK, "a1", "", 2.105)]


def test_without_a_wheel_nothing_is_made_up(page: KitPage) -> None:
    choose(page, 0)
    page.form.who.setEditText("Ada")
    page.form.use.click()

    assert asked(page) == [("wear", "0A:09", WORK, "a1", "")]


def test_the_wheel_is_remembered_and_can_be_corrected(page: KitPage) -> None:
    choose(page, 1)
    assert page.form.wheel.text() == "2.2"
    choose(page, 0, worn=True)
    assert page.form.wheel.text() == "2.105"
    page.form.use.click()
    page.form.wheel.setText("2105")
    page.form.use.click()
    assert asked(page) == []
    page.form.wheel.setText("2.1")
    page.form.use.click()

    assert asked(page) == [("assign", "p1", "a1", "", 2.1)]
