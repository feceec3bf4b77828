"""The heart-rate band as a bracket on a stem, with a pointer where the athlete is."""

from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPolygonF

from livemon.view.qt.look import Look

#: The band takes this share of the scale, so that there is room above and below it.
_BAND_SHARE: Final = 0.36


def band_level(area: QRectF, band: tuple[int, int], bpm: float) -> float:
    """Return the y of a heart rate; what lies far outside stays at the end of the scale."""
    low, high = band
    per_px = max(high - low, 1) / (area.height() * _BAND_SHARE)
    y = area.center().y() - (bpm - (low + high) / 2) / per_px
    return min(max(y, area.top() + 4), area.bottom() - 4)


def draw_band(
    painter: QPainter, area: QRectF, band: tuple[int, int], bpm: float | None, look: Look
) -> float:
    """Draw the gauge; return the x right of which limits may be written."""
    theme = look.theme
    size = min(area.width() * 0.42, area.height() * 0.17)
    stem = area.left() + size * 1.9
    tooth = size * 0.7
    painter.setPen(QColor(theme.rule))
    painter.drawLine(QPointF(stem, area.top()), QPointF(stem, area.bottom()))
    low, high = (band_level(area, band, limit) for limit in band)
    painter.setPen(QColor(theme.scale))
    for shift in (0.0, 1.0):
        painter.drawPolyline(
            [
                QPointF(stem - tooth, high + shift),
                QPointF(stem + shift, high + shift),
                QPointF(stem + shift, low + shift),
                QPointF(stem - tooth, low + shift),
            ]
        )
    if bpm is not None:
        tip = QPointF(stem - tooth * 0.5, band_level(area, band, bpm))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.ink))
        corners = [tip, tip + QPointF(-size, -size * 0.62), tip + QPointF(-size, size * 0.62)]
        painter.drawPolygon(QPolygonF(corners))
    return stem + tooth * 0.6
