"""A number is shown whole or not at all, however narrow its place: half of it is another number."""

import pytest
import scenes
from PySide6.QtWidgets import QApplication, QWidget
from seen_text import misplaced, written

from livemon.view.class_view import ClassView
from livemon.view.present import present
from livemon.view.qt.lanes import LanesPage
from livemon.view.qt.lettering import Lettering
from livemon.view.qt.look import Look
from livemon.view.qt.pace import PacePage
from livemon.view.settings import ViewSettings
from livemon.view.theme import DARK

FIGURES = frozenset("0123456789:.+−–")
#: The smallest window, a usual one and a large one, less the table of values.
NARROW = (528, 902, 1268)


def cut(page: QWidget) -> list[tuple[str, str]]:
    page.grab()
    lines = [line for _, line, _ in written(page) if FIGURES.issuperset(line.text)]
    assert lines
    return [(one.text, one.shown) for one in lines if one.shown != one.text]


@pytest.mark.parametrize("tall", [480, 768, 1080])
def test_numbers_and_the_warning_of_the_pace_page_are_whole_at_every_width(
    application: QApplication, tall: int
) -> None:
    page = PacePage(Look(DARK, Lettering(), motion=False))
    model = present(scenes.warned(), ViewSettings())
    page.show_model(model, lit=True)
    for wide in (*NARROW, *range(540, 1930, 97)):
        page.resize(wide, tall)
        assert cut(page) == [], wide
        assert model.watch.sentence in {line.shown for _, line, _ in written(page)}, wide


@pytest.mark.parametrize("count", [2, 8, 24])
def test_numbers_of_the_lanes_are_whole_or_not_there(application: QApplication, count: int) -> None:
    page = LanesPage(Look(DARK, Lettering(), motion=False))
    page.show_model(ClassView(ViewSettings()).model(scenes.class_of(count), ()), None, 0.0)
    for wide in NARROW:
        page.resize(wide, 768)
        assert {shown for _, shown in cut(page)} <= {"…", ""}, wide


@pytest.mark.parametrize("wide", NARROW[1:])
@pytest.mark.parametrize("count", [8, 12, 24])
def test_beside_the_table_of_values_no_words_of_a_lane_lie_over_others(
    application: QApplication, count: int, wide: int
) -> None:
    page = LanesPage(Look(DARK, Lettering(), motion=False))
    page.show_model(ClassView(ViewSettings()).model(scenes.class_of(count), ()), None, 0.0)
    page.resize(wide, 768)
    page.grab()
    assert misplaced(page) == []
