"""The Bouts window's models in an invented language: no word of our own is left in English.

Days are given as they are read from a recording; tests/app looks at their words.
"""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from enum import Enum

import bouts_scenes as scenes
import numpy as np
import pytest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QLabel,
    QTabWidget,
    QToolButton,
    QWidget,
)

from livemon.tongue import ENGLISH, speak
from livemon.view.bouts_history import QUANTITIES, history_model
from livemon.view.bouts_model import Picks, bouts_model, first_choice
from livemon.view.bouts_overlay import read_out
from livemon.view.bouts_source import BoutsSession, sites_of
from livemon.view.bouts_ticks import day_ticks
from livemon.view.qt.bouts_page import BoutsPage
from livemon.view.qt.bouts_window import BoutsWindow
from livemon.view.qt.lettering import Lettering
from livemon.view.qt.look import Look
from livemon.view.settings import ThemeChoice, ViewSettings
from livemon.view.theme import DARK, LIGHT, Theme
from translations.invented_language import left_in_english, spoken

SCENES = [scene for name, scene in scenes.SCENES.items() if name != "long names"]
#: Not read as it stands.
_NOT_OURS = {"key", "picks", "holds", "slope", "figure"}


@pytest.fixture(autouse=True)
def invented_language() -> Iterator[None]:
    speak(spoken())
    yield
    speak(ENGLISH)


def texts_of(value: object) -> Iterator[str]:
    """Yield every text in a model."""
    if isinstance(value, Enum):
        return
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple | list):
        for item in value:
            yield from texts_of(item)
    elif is_dataclass(value) and not isinstance(value, np.ndarray):
        for one in fields(value):
            if one.name not in _NOT_OURS:
                yield from texts_of(getattr(value, one.name))


def given(sessions: tuple[BoutsSession, ...]) -> set[str]:
    """Return what people named, and the symbols of what is measured."""
    found = {
        "ride",
        scenes.THIGH,
        scenes.FOREARM,
        "right forearm",
        "Lane 3",
        "bpm",
        "mmol/L",
        "RPE",
        "tHb",
    }
    for session in sessions:
        found |= {session.day, session.recording}
    return found


def several() -> tuple[BoutsSession, ...]:
    return (
        scenes.session(scenes.record()),
        scenes.session(scenes.record(recording="r2", drop=30.0), "r2", 5),
    )


def english(texts: Iterator[str], names: set[str]) -> list[str]:
    told = {name.casefold() for name in names}
    return [t for t in texts if t.casefold() not in told and left_in_english(t, names)]


@pytest.mark.parametrize("relative", [False, True], ids=["levels", "points"])
@pytest.mark.parametrize("sessions", [*(scene() for scene in SCENES), several(), ()])
def test_no_view_is_left_in_english(sessions: tuple[BoutsSession, ...], relative: bool) -> None:
    first = first_choice(sessions)
    model = bouts_model(sessions, Picks(first.bouts, first.sites, relative))
    read = [read_out(model.overlay, t_s) for t_s in (None, -10.0, 20.0)]

    assert english(texts_of([model, *read]), given(sessions)) == []


def test_nothing_picked_is_not_left_in_english() -> None:
    model = bouts_model(scenes.one(), Picks())
    assert english(texts_of(model), given(scenes.one())) == []


@pytest.mark.parametrize("followed", QUANTITIES, ids=lambda one: one.name)
@pytest.mark.parametrize("kind", ["ride", "row"])
def test_no_history_is_left_in_english(followed: object, kind: str) -> None:
    sessions = several()
    for site in sites_of(sessions):
        model = history_model(sessions, followed, site, kind)  # type: ignore[arg-type] # see ids
        assert english(texts_of(model), given(sessions) | {"row"}) == []


def test_days_on_the_axis_are_not_left_in_english() -> None:
    labels = iter(label for _, label in day_ticks(0.0, 86_400.0 * 365, 12))
    assert english(labels, set()) == []


def test_the_page_around_the_views_is_not_left_in_english(application: QApplication) -> None:
    page = BoutsPage(Look(DARK, Lettering(), motion=False), 14)
    parts: list[QWidget] = [page, *page.findChildren(QWidget)]
    shown = [p.text() for p in parts if isinstance(p, QLabel | QAbstractButton)]
    heard = [p.accessibleName() for p in parts]
    tabs = [t.tabText(i) for t in parts if isinstance(t, QTabWidget) for i in range(t.count())]

    assert tabs
    of_qt = {"Scroll Left", "Scroll Right"}  # Qt names these, and translates them itself
    assert english(iter([*shown, *heard, *tabs]), of_qt) == []


@pytest.mark.parametrize(
    ("choice", "theme"),
    [(ThemeChoice.DARK, DARK), (ThemeChoice.LIGHT, LIGHT)],
    ids=["dark", "light"],
)
def test_arrows_beside_more_tabs_than_have_room_follow_the_theme(
    application: QApplication, choice: ThemeChoice, theme: Theme
) -> None:
    window = BoutsWindow(scenes.Desk(*scenes.one()), ViewSettings(theme=choice))
    window.resize(1060, 768)
    window.show()
    window.refresh()
    application.processEvents()
    arrows = [one for one in window.page.tabs.findChildren(QToolButton) if one.isVisible()]

    assert len(arrows) == 2
    for one in arrows:
        image = one.grab().toImage()
        colours = {image.pixelColor(x, y).name() for x in range(image.width())
                   for y in range(image.height())}  # fmt: skip
        assert theme.card.lower() in colours  # their own arrows are in the colour of its text
    window.close()
