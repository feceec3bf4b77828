"""Pace and Lanes in an invented language: nothing is left in English, nothing is clipped."""

from collections.abc import Iterator

import pytest
import scenes
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLabel, QWidget
from seen_text import misplaced, written

from livemon.monitor.snapshot import LaneState
from livemon.tongue import ENGLISH, speak
from livemon.view.class_view import ClassView
from livemon.view.keys import LIVE_KEYS, REPLAY_KEYS, Key
from livemon.view.present import present
from livemon.view.qt.help_panel import HelpPanel
from livemon.view.qt.lanes import LanesPage
from livemon.view.qt.lettering import Lettering
from livemon.view.qt.look import Look
from livemon.view.qt.pace import PacePage
from livemon.view.qt.settings_panel import SettingsPanel
from livemon.view.settings import ThemeChoice, ViewSettings
from livemon.view.theme import DARK
from translations.invented_language import left_in_english, pseudo, spoken


@pytest.fixture(autouse=True)
def invented_language() -> Iterator[None]:
    speak(spoken())
    yield
    speak(ENGLISH)


def names_of(*lanes: LaneState) -> set[str]:
    """Return what people have named, and every shorter form of it that a screen has room for."""
    full = {"sled push", "row"}
    for lane in lanes:
        full |= {lane.name, lane.athlete, *(site.site for site in lane.state.sites)}
        full |= {sensor.name for sensor in lane.sensors}
        if lane.plan is not None:
            full |= {lane.plan.now, lane.plan.following}
        if lane.bout is not None:
            full |= {lane.bout.kind}
    words = {part for name in full for part in name.replace(",", " ").split()}
    beginnings = {word[:length] for word in words for length in range(3, len(word))}
    return {name for name in full | words | beginnings if name}


def english(lines: list[str], names: set[str]) -> list[str]:
    return [line for line in lines if left_in_english(line, names)]


def heard(page: QWidget) -> list[str]:
    parts = [page, *page.findChildren(QWidget)]
    told = [part.accessibleName() for part in parts if not part.isHidden()]
    described = [part.accessibleDescription() for part in parts]
    shown = [part.text() for part in parts if isinstance(part, QLabel | QAbstractButton)]
    return told + described + shown


def test_the_invented_language_keeps_its_places_and_is_a_third_longer() -> None:
    assert pseudo("{site} fell") == "[{site} fêllģy]"
    assert left_in_english("No warning", set())
    assert not left_in_english(pseudo("No warning"), set())
    assert not left_in_english("Left thigh −4.1 %/min", {"left thigh"})
    assert 1.25 < len(pseudo("Heart rate is moving")) / len("Heart rate is moving") < 1.5


@pytest.mark.parametrize("size", [(1366, 768), (1920, 1080)], ids=str)
@pytest.mark.parametrize("name", [name for name in scenes.SCENES if name != "ten sites"])
def test_pace_speaks_it_throughout(
    application: QApplication, name: str, size: tuple[int, int]
) -> None:
    lane = scenes.SCENES[name]()
    model = present(lane, ViewSettings())
    page = PacePage(Look(DARK, Lettering(), motion=False))
    page.resize(*size)
    page.show_model(model, lit=True)
    page.grab()

    names = names_of(lane)
    assert english([line.text for _, line, _ in written(page)], names) == []
    assert english([words for row in model.table for words in row], names) == []
    assert english([model.chart.summary, *(site.spoken for site in model.sites)], names) == []
    assert english(heard(page), names) == []
    assert misplaced(page) == []


@pytest.mark.parametrize("size", [(1366, 768), (1920, 1080)], ids=str)
@pytest.mark.parametrize("count", [1, 12, 24])
def test_lanes_speaks_it_throughout(
    application: QApplication, count: int, size: tuple[int, int]
) -> None:
    snapshot = scenes.class_of(count)
    model = ClassView(ViewSettings()).model(snapshot, ())
    page = LanesPage(Look(DARK, Lettering(), motion=False))
    page.resize(*size)
    page.show_model(model, "a3", 0.0)
    page.grab()

    names = names_of(*snapshot.lanes) | {f"Lane {i}" for i in range(1, 25)}
    assert english([line.text for _, line, _ in written(page)], names) == []
    assert english([words for row in model.table for words in row], names) == []
    assert english(heard(page), names) == []
    assert misplaced(page) == []


def test_settings_speak_it_throughout(application: QApplication) -> None:
    panel = SettingsPanel(ViewSettings(theme=ThemeChoice.LIGHT))
    panel.show_digit(200)
    (themes,) = panel.findChildren(QComboBox)
    choices = [themes.itemText(i) for i in range(themes.count())]

    assert english(heard(panel) + choices, set()) == []
    assert themes.currentText() == pseudo("light")
    assert panel.sizeHint().width() <= 1366
    assert panel.sizeHint().height() <= 768


def test_a_theme_is_chosen_in_it(application: QApplication) -> None:
    panel = SettingsPanel(ViewSettings())
    told: list[ViewSettings] = []
    panel.changed.connect(told.append)
    (themes,) = panel.findChildren(QComboBox)

    themes.setCurrentText(pseudo("dark"))

    assert [settings.theme for settings in told] == [ThemeChoice.DARK]


@pytest.mark.parametrize("keys", [LIVE_KEYS, REPLAY_KEYS], ids=["live", "replay"])
def test_help_speaks_it_throughout(application: QApplication, keys: tuple[Key, ...]) -> None:
    panel = HelpPanel(keys)

    lines = [line for line in heard(panel) if len(line) > 1]  # a letter is a key
    assert english(lines, {f"{key.shown}: " for key in keys if len(key.shown) == 1}) == []
    assert panel.sizeHint().width() <= 1366
