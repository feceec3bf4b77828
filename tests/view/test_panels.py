"""What lies over a page fits, or scrolls: at every window size, text scale and length of plan."""

from collections.abc import Iterator
from itertools import combinations

import pytest
import scenes
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QRawFont
from PySide6.QtWidgets import QApplication, QCheckBox, QLabel, QScrollArea, QWidget
from test_contrast import GRAPHICS, contrast
from test_plan_panel import Shelf
from test_window import Bench

from livemon.view.theme import DARK, LIGHT, Theme

PANELS = {"Settings": Qt.Key.Key_Comma, "Plans": Qt.Key.Key_P, "Keys": Qt.Key.Key_Question}


@pytest.fixture
def shown(application: QApplication) -> Iterator[Bench]:
    bench = Bench(scenes.class_of(8), plans=Shelf())
    yield bench
    bench.asked.done = True
    bench.window.close()
    bench.window.deleteLater()
    application.processEvents()


def panel(shown: Bench, name: str) -> QWidget:
    return next(
        part for part in shown.window.findChildren(QWidget) if part.accessibleName() == name
    )


def places(root: QWidget) -> list[tuple[QLabel, QRect]]:
    labels = [part for part in root.findChildren(QLabel) if part.isVisible() and part.text()]
    return [(part, QRect(part.mapTo(root, QPoint(0, 0)), part.size())) for part in labels]


@pytest.mark.parametrize("name", PANELS)
@pytest.mark.parametrize("size", [(800, 480), (1366, 768), (1920, 1080)])
def test_no_line_of_a_panel_is_clipped_or_lies_over_another(
    shown: Bench, name: str, size: tuple[int, int], application: QApplication
) -> None:
    shown.window.resize(*size)
    shown.press(PANELS[name])
    application.processEvents()
    root = panel(shown, name)

    for label, place in places(root):
        wished = label.heightForWidth(label.width()) if label.wordWrap() else -1
        tall = max(wished, 0) or label.sizeHint().height()
        assert place.height() >= tall - 1, label.text()
        if not label.wordWrap():
            assert place.width() >= label.sizeHint().width(), label.text()
    for (one, here), (other, there) in combinations(places(root), 2):
        assert not here.intersects(there), (one.text(), other.text())
    area = root.parentWidget().parentWidget()
    assert isinstance(area, QScrollArea)
    assert shown.window.rect().contains(QRect(area.mapTo(shown.window, QPoint(0, 0)), area.size()))
    assert area.viewport().width() >= root.width(), "nothing is cut off at the side"


def test_where_it_does_not_fit_the_focus_is_scrolled_into_view(
    shown: Bench, application: QApplication
) -> None:
    shown.window.resize(800, 480)
    shown.press(Qt.Key.Key_Comma)
    root = panel(shown, "Settings")
    last = next(
        p for p in root.findChildren(QWidget) if p.accessibleName() == "Battery is low from"
    )
    area = root.parentWidget().parentWidget()
    assert isinstance(area, QScrollArea)
    area.ensureWidgetVisible(last)
    application.processEvents()

    assert area.verticalScrollBar().maximum() > 0
    assert not last.visibleRegion().isEmpty()


@pytest.mark.parametrize("name", PANELS)
def test_every_glyph_of_a_panel_is_in_the_font(shown: Bench, name: str) -> None:
    shown.press(PANELS[name])
    font = QRawFont.fromFont(shown.window.font())
    missing = {
        character
        for label, _ in places(panel(shown, name))
        for character in label.text()
        if character != "\n" and not font.supportsCharacter(ord(character))
    }

    assert missing == set()


@pytest.mark.parametrize("theme", [DARK, LIGHT], ids=lambda theme: theme.name)
def test_a_box_is_seen_whether_it_is_ticked_or_not(shown: Bench, theme: Theme) -> None:
    """WCAG 2.2, 1.4.11: what a control is and how it stands has 3:1 to its ground."""
    if theme is LIGHT:
        shown.press(Qt.Key.Key_T)
    shown.press(Qt.Key.Key_Comma)
    boxes = panel(shown, "Settings").findChildren(QCheckBox)
    assert {box.isChecked() for box in boxes} == {True, False}
    shown.window.setFocus()
    picture = shown.window.grab().toImage()
    for box in boxes:
        middle = box.mapTo(shown.window, QPoint(0, box.height() // 2))
        row = range(middle.x(), middle.x() + box.height())
        colours = {picture.pixelColor(x, middle.y()).name() for x in row}
        assert max(contrast(one, theme.ground) for one in colours) >= GRAPHICS, box.text()
