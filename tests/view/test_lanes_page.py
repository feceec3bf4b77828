"""The Lanes page's structure, for small and large classes at several sizes."""

from dataclasses import replace
from itertools import combinations

import pytest
import scenes
from PySide6.QtCore import QEvent, QObject, QPoint, QRectF
from PySide6.QtGui import QPainter, QPaintEvent, QPixmap, QRegion
from PySide6.QtWidgets import QApplication, QWidget
from seen_text import misplaced, written

from livemon.view.class_view import ClassView
from livemon.view.lanes_layout import lane_layout, lanes_layout
from livemon.view.layout import Box
from livemon.view.present import present
from livemon.view.qt.lane_strip import LaneStrip
from livemon.view.qt.lanes import LanesPage
from livemon.view.qt.lettering import Lettering
from livemon.view.qt.look import Look
from livemon.view.qt.small_chart import SmallChart
from livemon.view.settings import ViewSettings
from livemon.view.theme import DARK

SIZES = [(1366, 768), (1920, 1080), (2560, 1080)]
CLASSES = [1, 4, 8, 12, 13, 16, 24]


def page(count: int, size: tuple[int, int]) -> LanesPage:
    shown = LanesPage(Look(DARK, Lettering(), True))
    shown.resize(*size)
    shown.show_model(ClassView(ViewSettings()).model(scenes.class_of(count), ()), "a3", 0.0)
    shown.grab()
    return shown


def overlap(one: Box, other: Box) -> bool:
    return (
        min(one.right, other.right) - max(one.x, other.x) > 0.01
        and min(one.bottom, other.bottom) - max(one.y, other.y) > 0.01
    )


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("count", CLASSES)
def test_no_text_is_clipped_or_over_another(
    application: QApplication, count: int, size: tuple[int, int]
) -> None:
    shown = page(count, size)

    assert len(written(shown)) > count
    assert misplaced(shown) == []


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("count", CLASSES)
def test_ordinary_words_are_never_cut_short(
    application: QApplication, count: int, size: tuple[int, int]
) -> None:
    long = ("Maximiliane", "Vastus", "vastus", "Extensor", "Gastrocnemius")
    cut = [
        line.text
        for _, line, _ in written(page(count, size))
        if line.shown != line.text and not line.text.startswith(long)
    ]

    assert cut == []


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("count", range(1, 25))
def test_lanes_lie_inside_and_apart_and_fill_the_page(count: int, size: tuple[int, int]) -> None:
    width, height = size
    layout = lanes_layout(width, height, count)
    boxes = [layout.header, *layout.lanes]

    assert len(layout.lanes) == count
    assert all(box.x >= 0 and box.right <= width and box.bottom <= height for box in boxes)
    assert not any(overlap(one, other) for one, other in combinations(boxes, 2))
    if count >= 5:
        assert max(box.bottom for box in layout.lanes) > 0.95 * height


@pytest.mark.parametrize("sites", range(11))
@pytest.mark.parametrize(("width", "height"), [(660, 52), (660, 110), (1330, 52), (1890, 200)])
def test_the_cells_of_a_lane_lie_inside_and_apart(width: int, height: int, sites: int) -> None:
    layout = lane_layout(width, height, sites)
    cells = [layout.name, layout.heart_rate, *layout.sites, layout.clock]
    cells += [layout.chart] if layout.chart else []

    assert all(box.x >= 0 and box.right <= width for box in cells)
    assert all(box.y >= 0 and box.bottom <= height for box in cells)
    assert not any(overlap(one, other) for one, other in combinations(cells, 2))
    assert len(layout.sites) >= min(sites, 2), "two sites always have room"


def test_a_changed_value_is_painted_at_the_next_refresh(application: QApplication) -> None:
    shown = page(4, (1366, 768))
    shown.show()
    application.processEvents()
    calm, snapshot = ClassView(ViewSettings()), scenes.class_of(4)
    faster = scenes.with_heart_rate(snapshot.lanes[1], scenes.heart_rate(171))
    changed = replace(snapshot, lanes=(snapshot.lanes[0], faster, *snapshot.lanes[2:]))
    assert "171" not in {line.text for _, line, _ in written(shown)}

    shown.show_model(calm.model(changed, ()), "a3", 0.0)
    application.processEvents()
    assert "171" in {line.text for _, line, _ in written(shown)}
    shown.close()


def test_the_small_chart_is_due_when_time_has_moved_by_a_pixel(application: QApplication) -> None:
    chart = present(scenes.quiet(), ViewSettings(window_s=300)).chart
    picture = QPixmap(200, 40)
    painter, small = QPainter(picture), SmallChart()
    assert small.is_due(chart, 200)

    small.draw(painter, QRectF(0, 0, 200, 40), chart, Look(DARK, Lettering(), True), 1.0)
    painter.end()
    assert not small.is_due(replace(chart, now_s=chart.now_s + 0.4), 200)
    assert small.is_due(replace(chart, now_s=chart.now_s + 1.6), 200)


class Painted(QObject):
    """Remembers which regions of a widget have been painted."""

    def __init__(self, watched: QWidget) -> None:
        super().__init__(watched)
        self.regions: list[QRegion] = []
        watched.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        if isinstance(event, QPaintEvent):
            self.regions.append(QRegion(event.region()))
        return False


def test_the_chart_moves_on_even_when_no_word_changes(application: QApplication) -> None:
    shown = page(4, (1366, 768))
    shown.show()
    application.processEvents()
    strip = next(
        part for part in shown.findChildren(LaneStrip) if "Lane 2" in part.accessibleName()
    )
    chart = lane_layout(strip.width(), strip.height(), 2).chart
    assert chart is not None
    middle = QPoint(round(chart.x + chart.width / 2), round(chart.y + chart.height / 2))
    painted = Painted(strip)
    calm, snapshot = ClassView(ViewSettings()), scenes.class_of(4)

    def later(seconds: float) -> None:
        lanes = tuple(
            replace(lane, bout=None, state=replace(lane.state, t_s=lane.state.t_s + seconds))
            for lane in snapshot.lanes
        )
        shown.show_model(calm.model(replace(snapshot, lanes=lanes), ()), "a3", 0.0)
        application.processEvents()

    later(0.0)
    painted.regions.clear()
    later(0.01)
    assert not any(region.contains(middle) for region in painted.regions)
    later(5.0)
    assert any(region.contains(middle) for region in painted.regions)
    shown.close()
