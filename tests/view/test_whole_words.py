"""Words too long for their place are cut, lie over nothing, and can be read whole all the same."""

import kit_scenes
import pytest
import scenes
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget
from seen_text import misplaced
from test_kit_page import Shown
from test_longer_words import lengthened

from livemon.view.class_view import ClassView
from livemon.view.present import present
from livemon.view.qt.lanes import LanesPage
from livemon.view.qt.lettering import Lettering
from livemon.view.qt.look import Look
from livemon.view.qt.message_page import MessagePage
from livemon.view.qt.pace import PacePage
from livemon.view.settings import ViewSettings
from livemon.view.theme import DARK
from livemon.view.waiting import CAUTION

LONG = " ".join(["Donaudampfschifffahrt"] * 12)


def look() -> Look:
    return Look(DARK, Lettering(), motion=False)


def cut_lines(page: QWidget) -> list[tuple[str, str]]:
    """Return each text that was cut short, and what the tooltip of its part says."""
    return [
        (line.text, part.toolTip())
        for part in (page, *page.findChildren(QWidget))
        for line in getattr(part, "written", ())
        if line.shown != line.text and hasattr(part, "paintEvent")
    ]


@pytest.mark.parametrize("size", [(800, 480), (1366, 768)], ids=str)
def test_on_pace_what_is_cut_stands_in_the_tooltip(
    application: QApplication, size: tuple[int, int]
) -> None:
    page = PacePage(look())
    page.resize(*size)
    model = present(scenes.warned(), ViewSettings())
    for _ in range(4):  # four times a third: no language is so long
        model = lengthened(model)
    page.show_model(model, lit=True)
    page.grab()

    cut = cut_lines(page)
    assert len(cut) > 3
    assert [text for text, tip in cut if text not in tip.split("\n")] == []
    assert misplaced(page) == []


@pytest.mark.parametrize("count", [4, 24])
def test_on_lanes_what_is_cut_stands_in_the_tooltip(application: QApplication, count: int) -> None:
    page = LanesPage(look())
    page.resize(1366, 768)
    model = ClassView(ViewSettings()).model(scenes.class_of(count), ())
    for _ in range(4):
        model = lengthened(model)
    page.show_model(model, None, 0.0)
    page.grab()

    cut = cut_lines(page)
    assert len(cut) > 3
    assert [text for text, tip in cut if text not in tip.split("\n")] == []
    assert misplaced(page) == []


def test_a_message_that_is_cut_stands_in_the_tooltip_until_it_fits(
    application: QApplication,
) -> None:
    page = MessagePage(look())
    page.resize(800, 480)
    page.show_words(LONG, ("short",), "")
    page.grab()
    assert page.toolTip() == LONG
    assert misplaced(page) == []

    page.show_words("short", ("short",), "")
    page.grab()
    assert page.toolTip() == ""


@pytest.mark.parametrize("size", [(800, 480), (1366, 768), (1920, 1080)])
def test_the_caution_below_a_message_is_never_cut(
    application: QApplication, size: tuple[int, int]
) -> None:
    page = MessagePage(look())
    page.resize(*size)
    page.show_words("short", ("short",), CAUTION)
    page.grab()

    assert page.toolTip() == ""
    foot = sorted(page.written[2:], key=lambda one: one.rect.top())
    assert " ".join(one.shown for one in foot) == CAUTION
    assert misplaced(page) == []


def test_a_line_of_the_kit_page_is_whole_in_its_tooltip(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.long_names())
    rows = shown.page.worn.model()
    told = rows.data(rows.index(1), Qt.ItemDataRole.ToolTipRole)

    assert "Wilhelmina-Theodora Papadopoulou-Featherstonehaugh" in told
    assert "A very long name of a sensor that never ends, number 12" in told
