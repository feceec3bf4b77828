"""Buttons in a line that may be too short for them: none is cut, none lies over another."""

import pytest
from PySide6.QtWidgets import QApplication, QLabel, QVBoxLayout, QWidget

from livemon.view.qt.flow import Flow

GAP_PX = 8


def laid_out(width: int, hidden: int | None = None) -> tuple[QWidget, list[QLabel]]:
    whole = QWidget()
    rows = QVBoxLayout(whole)
    rows.setContentsMargins(0, 0, 0, 0)
    flow = Flow(GAP_PX)
    parts = [QLabel() for _ in range(4)]
    for at, part in enumerate(parts):
        part.setFixedSize(100, 20)
        flow.addWidget(part)
        part.setHidden(at == hidden)
    rows.addLayout(flow)
    whole.resize(width, rows.totalHeightForWidth(width))
    whole.show()
    return whole, parts


@pytest.mark.parametrize(
    ("width", "corners", "height"),
    [
        (424, [(0, 0), (108, 0), (216, 0), (324, 0)], 20),
        (423, [(0, 0), (108, 0), (216, 0), (0, 28)], 48),
        (208, [(0, 0), (108, 0), (0, 28), (108, 28)], 48),
        (100, [(0, 0), (0, 28), (0, 56), (0, 84)], 104),
    ],
)
def test_what_finds_no_room_stands_in_the_next_line(
    application: QApplication, width: int, corners: list[tuple[int, int]], height: int
) -> None:
    whole, parts = laid_out(width)

    assert [(part.x(), part.y()) for part in parts] == corners
    assert whole.height() == height
    assert whole.minimumSizeHint().width() == 100


def test_what_is_hidden_takes_no_room(application: QApplication) -> None:
    _, parts = laid_out(424, hidden=1)

    assert [part.x() for part in parts if not part.isHidden()] == [0, 108, 216]


def test_one_is_taken_out_and_what_is_not_there_is_none(application: QApplication) -> None:
    flow = Flow(GAP_PX)
    label = QLabel()
    flow.addWidget(label)

    assert flow.itemAt(1) is None
    assert flow.takeAt(-1) is None
    item = flow.takeAt(0)
    assert item is not None
    assert item.widget() is label
    assert (flow.count(), flow.heightForWidth(100)) == (0, 0)
