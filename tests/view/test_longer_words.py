"""Every screen survives words a third longer, as in most other languages than English.

The words are lengthened after they have been made, in the models: with accents above and below the
line, so that tall letters are clipped nowhere either. Numbers stay as they are.
"""

from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest
import scenes
from PySide6.QtWidgets import QApplication
from seen_text import misplaced, written

from livemon.series.ring import Trail
from livemon.view.class_view import ClassView
from livemon.view.present import present
from livemon.view.qt.lanes import LanesPage
from livemon.view.qt.lettering import Lettering
from livemon.view.qt.look import Look
from livemon.view.qt.pace import PacePage
from livemon.view.settings import ViewSettings
from livemon.view.theme import DARK

_ACCENTED = str.maketrans("aeiouAEIOU", "âêîôûÂÊÎÔÛ")
#: Ids are not read by people.
_IDS = {"athlete"}


def longer(text: str) -> str:
    """Return `text` with accents and about a third more letters, if there are words in it."""
    letters = sum(character.isalpha() for character in text)
    if letters < 3:
        return text
    return f"{text.translate(_ACCENTED)}{'ģy' * max(1, round(letters * 0.18))}"


def lengthened(value: Any) -> Any:
    if isinstance(value, str):
        return longer(value)
    if isinstance(value, tuple):
        return tuple(lengthened(item) for item in value)
    if isinstance(value, Trail) or not is_dataclass(value) or isinstance(value, type):
        return value
    changed = {
        one.name: lengthened(getattr(value, one.name))
        for one in fields(value)
        if one.name not in _IDS
    }
    return replace(value, **changed)


def test_words_grow_by_a_third_and_numbers_do_not() -> None:
    assert longer("158") == "158"
    assert longer("−4.1 %/min") != "−4.1 %/min"
    sentence = "Left thigh falling while heart rate holds"
    assert 1.25 < len(longer(sentence)) / len(sentence) < 1.4


@pytest.mark.parametrize("size", [(1366, 768), (1920, 1080)], ids=str)
@pytest.mark.parametrize("name", [name for name in scenes.SCENES if name != "ten sites"])
def test_the_pace_page_keeps_its_order(
    application: QApplication, name: str, size: tuple[int, int]
) -> None:
    page = PacePage(Look(DARK, Lettering(), motion=False))
    page.resize(*size)
    page.show_model(lengthened(present(scenes.SCENES[name](), ViewSettings())), lit=True)
    page.grab()

    assert written(page)
    assert misplaced(page) == []


@pytest.mark.parametrize("size", [(1366, 768), (1920, 1080)], ids=str)
@pytest.mark.parametrize("count", [4, 12, 24])
def test_the_lanes_page_keeps_its_order(
    application: QApplication, count: int, size: tuple[int, int]
) -> None:
    page = LanesPage(Look(DARK, Lettering(), motion=False))
    page.resize(*size)
    model = ClassView(ViewSettings()).model(scenes.class_of(count), ("recording", "sound off"))
    page.show_model(lengthened(model), "a3", 0.0)
    page.grab()

    assert written(page)
    assert misplaced(page) == []
