"""A curve's marker as an icon, so that a list and a table name bouts as the picture does."""

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QIcon, QPainter, QPixmap

from livemon.view.qt.look import Look
from livemon.view.qt.shapes import draw_marker

_SHARP = 2  # pixels of the icon for one of the screen


def marker_icon(place: int, px: int, look: Look) -> QIcon:
    """Return the marker of the bout in this place, `px` across."""
    pixmap = QPixmap(px * _SHARP, px * _SHARP)
    pixmap.setDevicePixelRatio(_SHARP)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    draw_marker(painter, QPointF(px / 2, px / 2), px * 0.75, place, look)
    painter.end()
    return QIcon(pixmap)
