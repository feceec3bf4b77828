"""The Kit page in an invented language: nothing is left in English, nothing is clipped."""

from collections.abc import Callable, Iterator
from dataclasses import replace

import kit_scenes
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QFileDialog,
    QLineEdit,
    QWidget,
)
from test_kit_page import Shown, cut_short
from test_pseudo_language import heard

from livemon.errors import UsageError
from livemon.estimate.resting import Rest, RestingState
from livemon.tongue import ENGLISH, speak
from livemon.view.kit_about_words import about_words
from livemon.view.kit_baseline_words import baseline_model, everybody_words
from livemon.view.kit_entry import SITES, read_adipose, read_band
from livemon.view.kit_facts import WORK, About, Device, KitFacts, Resting, Standing
from livemon.view.kit_model import KitModel
from livemon.view.kit_signal_words import choice_models, nearby_models
from livemon.view.kit_worn_words import worn_model
from livemon.view.qt.ask_adapter import ask_adapter
from translations.invented_language import left_in_english, pseudo, spoken

#: As facts bring them: names, and words that are worded elsewhere.
FACTS = {
    "Invented Instruments", "One", "invented-demo", "invented-plain", "invented-rich",
    "heart-rate strap", "left thigh", "right forearm", "Calf 2", "mine", "A very long name of a",
    "A very long", "sensor that never", "Sensor with a name", "as long as it",
    "Wilhelmina-Theodora Papadopoulou-Featherstonehaugh", "Wilhelmina-Theodora",
    "A very long name of a sensor that never ends, number 12", kit_scenes.HELD, kit_scenes.FULL,
    "A device with this sensor's name is here, but it may be another one. Hold the right one close"
    " to the computer and choose it, so that nobody gets another person's data.",
    "Bluetooth is switched off. Switch it on in the system's settings; livemon goes on by itself"
    " as soon as it can.",
    "Adapter “mine” can be chosen now.", "can be chosen now",
    "no contact field: a probe that came off can't be told from a drained muscle",
    "no rate_hz: gaps are judged by the rate seen, which takes a while to learn",
    "oximeter (invented-demo)", "STRAP", "OXI", *kit_scenes.NAMES,
}  # fmt: skip
#: A key of the keyboard, and units.
KEYS = {" dBm", " bpm", "mmHg", " mm"}
#: In a class: a strap, an oximeter, and each that something is wrong with.
CHOSEN = (0, 1, 2, 3, 7, 9, 12, 13)
SIZES = [(1366, 768), (1920, 1080)]


@pytest.fixture(autouse=True)
def invented_language() -> Iterator[None]:
    speak(spoken())
    yield
    speak(ENGLISH)


def told(page: QWidget) -> list[str]:
    """Return every text that is shown, offered, or heard by who does not see it."""
    lines = heard(page)
    for part in page.findChildren(QWidget):
        lines.append(part.toolTip())
        if isinstance(part, QLineEdit):
            lines += [part.placeholderText(), part.text()]
        elif isinstance(part, QComboBox):
            lines += [part.itemText(at) for at in range(part.count())]
    return lines


def listed(shown: Shown) -> list[str]:
    """Return what stands in the lines of both lists, and what is heard of them."""
    lines = []
    for one in (shown.page.nearby, shown.page.worn):
        lines += [line.text for line in one.written]
        rows = one.model()
        role = Qt.ItemDataRole.AccessibleTextRole
        lines += [rows.data(rows.index(at), role) for at in range(rows.rowCount())]
    return lines


def english(lines: list[str]) -> list[str]:
    return [line for line in set(lines) if left_in_english(line, FACTS | KEYS)]


def clipped(shown: Shown) -> list[str]:
    """Return what can't be read whole, once all lies where it should."""
    for _ in range(2):  # words that wrap ask for their height when they know their width
        shown.application.processEvents()
        shown.page.grab()
    whole = shown.page.form.parentWidget()
    assert whole is not None
    room = shown.page._area.viewport().width()
    beyond = [f"{whole.width()} px in {room}"] if whole.width() > room else []
    return cut_short(shown.page) + beyond


@pytest.mark.parametrize("size", SIZES, ids=str)
@pytest.mark.parametrize("name", kit_scenes.SCENES)
def test_the_kit_page_speaks_it_throughout(
    application: QApplication, name: str, size: tuple[int, int]
) -> None:
    shown = Shown(application, kit_scenes.SCENES[name](), size=size)
    page = shown.page
    assert english(told(page) + listed(shown)) == []
    assert clipped(shown) == []

    for shelf, rows in ((page.nearby, CHOSEN[:4]), (page.worn, CHOSEN)):
        for row in (row for row in rows if row < shelf.model().rowCount()):
            shown.select(shelf, row)
            assert english(told(page)) == []
            assert clipped(shown) == []


def test_names_are_asked_for_in_it(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.six())
    shown.select(shown.page.worn, 3)
    shown.page.form.rename.click()

    assert shown.page.form.names.isVisible()
    assert english(told(shown.page)) == []
    assert clipped(shown) == []


def rested(verdict: Rest, level_pct: float | None = 63.0, drift: float = 3.4) -> RestingState:
    return RestingState(verdict, 120.0, 0.0, level_pct, drift, 4.4, True)


def with_baselines(running: bool) -> KitModel:
    """Return a class of six whose baselines are taken."""
    facts, at = kit_scenes.kit(6)
    states = (
        rested(Rest.STABLE),
        rested(Rest.DRIFTING),
        rested(Rest.DRIFTING, drift=-2.6),
        rested(Rest.UNSTEADY),
        rested(Rest.SPARSE),
        rested(Rest.SPARSE, None),
    )
    resting = tuple(
        Resting(f"a{number}", running, (("left thigh", state), ("right forearm", state)))
        for number, state in enumerate(states, start=1)
    )
    return kit_scenes.model(replace(facts, resting=resting), at)


@pytest.mark.parametrize("running", [True, False])
@pytest.mark.parametrize("size", SIZES, ids=str)
def test_baselines_speak_it_and_everybody_can_be_chosen(
    application: QApplication, size: tuple[int, int], running: bool
) -> None:
    shown = Shown(application, with_baselines(running), size=size)
    rest = shown.page.rest
    assert rest.who.itemText(0) == pseudo("everybody")
    for choice in range(rest.who.count()):
        rest.who.setCurrentIndex(choice)
        assert english(told(shown.page)) == []
        assert clipped(shown) == []

    rest.who.setCurrentIndex(0)
    rest.toggle.click()
    asked = "stop baseline" if running else "start baseline"
    assert [wish for wish in shown.asked.list if wish[0] == asked] == [
        (asked, f"a{number}") for number in range(1, 7)
    ]


def test_every_word_of_a_baseline_speaks_it() -> None:
    for running in (True, False):
        for verdict in Rest:
            for drift in (3.4, -3.4):
                model = baseline_model(
                    Resting("a1", running, (("left thigh", rested(verdict, drift=drift)),))
                )
                (row,) = model.rows
                assert english([model.clock, row[2], everybody_words((model, model))]) == []


def test_what_a_sensor_says_of_itself_speaks_it() -> None:
    (used, *_) = kit_scenes.used(1, "a1")
    (lane,) = kit_scenes.lanes(1)
    for place in ("chest", "wrist", "finger", "hand", "ear lobe", "foot"):
        for dbm in (-50, -70, -80, -90):
            about = About("One", "One", "1.4.2", place, dbm, 840.0)
            assert english([about_words(replace(used, about=about), lane)]) == []


def test_every_standing_of_a_link_speaks_it() -> None:
    for used in kit_scenes.used(1, "a1"):
        for standing in Standing:
            for reading in (used.reading, WORK):
                sites = () if reading == WORK else used.sites
                sensor = replace(used, standing=standing, reading=reading, sites=sites)
                model = worn_model(sensor, None, battery_low_pct=90, adipose_mm=9.0)
                words = [model.who, model.site, model.state, model.hint, model.caution]
                assert english(words) == []


def test_every_way_of_being_nearby_speaks_it() -> None:
    devices = (
        Device("1", None, "0A:00:00:00:01:03"),
        Device("2", "OXI", "", None, (), None, "OXI"),
        Device("3", "OXI", "0A:00:00:00:01:04", -62, (), None, "Calf 2"),
    )
    for one in nearby_models(devices):
        assert english([one.name, one.kind, one.strength]) == []
    assert english([one.words for one in choice_models(devices)]) == []


@pytest.mark.parametrize("read", [read_band, read_adipose])
def test_what_can_not_be_read_is_refused_in_it(read: Callable[[str], object]) -> None:
    with pytest.raises(UsageError) as refused:
        read("ÿ")
    assert english([str(refused.value)]) == []


def test_muscles_are_offered_in_it_and_a_missing_name_is_told(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.found())
    form = shown.page.form
    offered = [form.site.itemText(at) for at in range(form.site.count())]
    assert offered == [pseudo(site) for site in SITES]

    shown.select(shown.page.nearby, 0)
    form.who.put("")
    form.use.click()
    assert english(told(shown.page)) == []
    assert shown.asked.list == [("look around", True)]


def test_a_file_is_asked_for_in_it(application: QApplication) -> None:
    parent = QWidget()
    dialog = ask_adapter(parent, print)
    assert isinstance(dialog, QFileDialog)
    assert (
        english([dialog.windowTitle(), *(one.split("(")[0] for one in dialog.nameFilters())]) == []
    )
    dialog.reject()
    assert not [one for one in parent.findChildren(QAbstractButton) if one.isVisible()]


def test_nobody_there_and_looking_off_speak_it(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.model(KitFacts(), kit_scenes.snapshot()))
    assert english(told(shown.page) + listed(shown)) == []
