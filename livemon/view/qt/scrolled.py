"""A panel that scrolls where the window has no room for all of it, as on a scaled screen."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QStyle, QWidget


class Scrolled(QScrollArea):
    """As large as its panel if there is room; else it scrolls, upwards and downwards only."""

    def __init__(self, panel: QWidget, parent: QWidget) -> None:
        super().__init__(parent)
        self._panel = panel
        self.setWidget(panel)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setFocusProxy(panel)

    def fitting(self, room: QSize) -> QSize:
        """Return the size to have in this room."""
        wished = self._panel.sizeHint()
        bar = self.style().pixelMetric(QStyle.PixelMetric.PM_ScrollBarExtent, None, self)
        width = wished.width() + (bar if wished.height() > room.height() else 0)
        return QSize(width, wished.height()).boundedTo(room)
