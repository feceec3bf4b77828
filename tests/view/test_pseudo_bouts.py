"""The Bouts window's models in an invented language: no word of our own is left in English.

Words that come from the analysis (reasons, evidence, verdicts) stay English so far; they are told
apart here by what the analysis itself says.
"""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from enum import Enum

import bouts_scenes as scenes
import numpy as np
import pytest
from pseudo_language import left_in_english, spoken
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QTabWidget, QWidget

from livemon.report.plain import plain
from livemon.tongue import ENGLISH, speak
from livemon.view.bouts_history import QUANTITIES, history_model
from livemon.view.bouts_model import Picks, bouts_model, first_choice
from livemon.view.bouts_overlay import read_out
from livemon.view.bouts_source import BoutsSession, sites_of
from livemon.view.bouts_ticks import day_ticks
from livemon.view.qt.bouts_page import BoutsPage
from livemon.view.qt.lettering import Lettering
from livemon.view.qt.look import Look
from livemon.view.theme import DARK

#: Not read as it stands, or worded by the analysis when it compares.
_NOT_OURS = {"key", "picks", "holds", "slope", "figure", "verdict", "difference"}


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
    """Return what people named, and what the analysis says in its own words."""
    found = {"ride", "W", scenes.THIGH, scenes.FOREARM, "Lane 3"}
    for session in sessions:
        found |= {session.day, session.recording}
        found |= set(_strings(plain(session.analysis)))
    return found | {"above the interval", "bpm", "mmol/L", "RPE", "tHb"}


def _strings(value: object) -> Iterator[str]:
    if isinstance(value, str):
        if len(value) > 2:
            yield value
    elif isinstance(value, dict):
        for item in value.values():
            yield from _strings(item)
    elif isinstance(value, list):
        for item in value:
            yield from _strings(item)


def several() -> tuple[BoutsSession, ...]:
    return (
        scenes.session(scenes.record()),
        scenes.session(scenes.record(recording="r2", drop=30.0), "r2", 5),
    )


def english(texts: Iterator[str], names: set[str]) -> list[str]:
    told = {name.casefold() for name in names}
    return [t for t in texts if t.casefold() not in told and left_in_english(t, names)]


@pytest.mark.parametrize("relative", [False, True], ids=["levels", "points"])
@pytest.mark.parametrize("sessions", [scenes.one(), several(), ()], ids=["one", "two", "none"])
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
