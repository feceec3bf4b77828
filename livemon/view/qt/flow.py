"""Widgets side by side; those that find no room in a line stand in the next one."""

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem


class Flow(QLayout):
    """As a line of words flows: words of another language may be longer than English ones.

    Args:
        gap_px: between two, across and down.
    """

    def __init__(self, gap_px: int) -> None:
        super().__init__()
        self._gap_px = gap_px
        self._items: list[QLayoutItem] = []

    def addItem(self, item: QLayoutItem) -> None:  # noqa: N802 - Qt's name
        """Take one more, after the others."""
        self._items.append(item)

    def count(self) -> int:
        """Return how many there are."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:  # noqa: N802 - Qt's name
        """Return one; None beyond the last."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:  # noqa: N802 - Qt's name
        """Let go of one and return it."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:  # noqa: N802 - Qt's name
        """Return that it wants no more room than it needs."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:  # noqa: N802 - Qt's name
        """Return that the narrower it is, the taller it gets."""
        return True

    def heightForWidth(self, width: int) -> int:  # noqa: N802 - Qt's name
        """Return how tall it is then."""
        return max((at.bottom() + 1 for _, at in self._placed(QRect(0, 0, width, 0))), default=0)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return what the widest needs: all others may stand below it."""
        return self.minimumSize()

    def minimumSize(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the size of the widest and tallest."""
        size = QSize(0, 0)
        for item in self._items:
            if not item.isEmpty():
                size = size.expandedTo(item.sizeHint())
        return size

    def setGeometry(self, area: QRect) -> None:  # noqa: N802 - Qt's name
        """Place them."""
        super().setGeometry(area)
        for item, at in self._placed(area):
            item.setGeometry(at)

    def _placed(self, area: QRect) -> list[tuple[QLayoutItem, QRect]]:
        """Return each that is shown, and where."""
        placed = []
        left, top, tallest = area.left(), area.top(), 0
        for item in self._items:
            if item.isEmpty():  # its widget is hidden
                continue
            size = item.sizeHint()
            if left > area.left() and left + size.width() > area.left() + area.width():
                left, top, tallest = area.left(), top + tallest + self._gap_px, 0
            placed.append((item, QRect(QPoint(left, top), size)))
            left += size.width() + self._gap_px
            tallest = max(tallest, size.height())
        return placed
