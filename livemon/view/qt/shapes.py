"""Small shapes: markers that name a curve, symbols that name a priority, the tilt.

All are filled areas: wide antialiased pens leave Qt's fast path.
"""

import math
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from livemon.view.identity import Marker, colour_index, marker
from livemon.view.model import Tilt
from livemon.view.qt.look import Look
from livemon.view.theme import Theme
from livemon.warn.priority import Priority

#: Slope that is drawn at 45 degrees. A slow but sure fall of 2 %/min still reads as a tilt, a
#: steep one of 15 %/min not yet as a wall (own choice).
_HALF_RIGHT_PCT_PER_MIN: Final = 5.0
_WEDGE_ALPHA: Final = 90


def curve_colour(theme: Theme, place: int) -> str:
    """Return the colour of the site in this place; the heart rate (-1) is grey."""
    return theme.scale if place < 0 else theme.curves[colour_index(place)]


def draw_marker(painter: QPainter, centre: QPointF, size: float, place: int, look: Look) -> None:
    """Draw the marker of the site in this place, `size` across."""
    half = size / 2
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(curve_colour(look.theme, place)))
    match marker(max(place, 0)):
        case Marker.DISC:
            painter.drawEllipse(centre, half, half)
        case Marker.SQUARE:
            painter.drawRect(QRectF(centre.x() - half * 0.88, centre.y() - half * 0.88,
                                    1.76 * half, 1.76 * half))  # fmt: skip
        case Marker.DIAMOND:
            painter.drawPolygon(_ring(centre, half * 1.2, 4, turn=0.0))


def draw_priority(painter: QPainter, box: QRectF, priority: Priority, look: Look) -> None:
    """Draw the symbol of a priority: full triangle, hollow triangle, or ring; each with a bar."""
    centre, size = box.center(), min(box.width(), box.height())
    colour = QColor(look.theme.priority[priority])
    ground = QColor(look.theme.band[priority])
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    if priority is Priority.INFORMATION:
        painter.drawEllipse(centre, size / 2, size / 2)
        painter.setBrush(ground)
        painter.drawEllipse(centre, size * 0.39, size * 0.39)
        _bar(painter, centre, size * 0.55, colour)
        return
    middle = QPointF(centre.x(), centre.y() + size * 0.10)
    painter.drawPolygon(_ring(middle, size * 0.60, 3, turn=-90.0))
    if priority is Priority.CAUTION:
        painter.setBrush(ground)
        painter.drawPolygon(_ring(middle, size * 0.42, 3, turn=-90.0))
        _bar(painter, middle, size * 0.40, colour)
    else:
        _bar(painter, middle, size * 0.48, ground)


def draw_fault(painter: QPainter, box: QRectF, colour: str) -> None:
    """Draw a struck-out ring: a sensor is at fault, no body."""
    size = min(box.width(), box.height())
    pen = QPen(QColor(colour))
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for inset in (0.5, 1.5):
        half = size / 2 - inset
        painter.drawEllipse(box.center(), half, half)
    arm = size / 2 * math.sqrt(0.5)
    for shift in (-0.5, 0.5):
        painter.drawLine(
            QPointF(box.center().x() - arm + shift, box.center().y() + arm + shift),
            QPointF(box.center().x() + arm + shift, box.center().y() - arm + shift),
        )


def draw_tilt(painter: QPainter, box: QRectF, tilt: Tilt, place: int, look: Look) -> None:
    """Draw a trend as an inclined line inside the wedge of its interval; the dot is now.

    Where the trend is unsure there is only the wedge.
    """
    centre = box.center()
    reach = min(box.width(), box.height() * 1.25) / 2 * 0.9
    painter.setPen(QPen(QColor(look.theme.scale), 1))
    painter.drawLine(
        QPointF(centre.x() - reach, centre.y()), QPointF(centre.x() + reach, centre.y())
    )
    colour = QColor(curve_colour(look.theme, place))
    wedge = QColor(colour)
    wedge.setAlpha(_WEDGE_ALPHA)
    low, high = _arm(tilt.low, reach), _arm(tilt.high, reach)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(wedge)
    painter.drawPolygon(QPolygonF([centre, centre + low, centre + high]))
    painter.drawPolygon(QPolygonF([centre, centre - low, centre - high]))
    if not tilt.sure:
        return
    arm = _arm(tilt.slope, reach)
    thick = max(1.5, reach * 0.045)
    across = QPointF(-arm.y(), arm.x()) * (thick / math.hypot(arm.x(), arm.y()))
    painter.setBrush(colour)
    painter.drawPolygon(
        QPolygonF([centre + arm + across, centre + arm - across,
                   centre - arm - across, centre - arm + across])
    )  # fmt: skip
    painter.drawEllipse(centre + arm, 2.6 * thick, 2.6 * thick)


def _arm(pct_per_min: float, reach: float) -> QPointF:
    """Return the way from the middle to the end of a line with this slope; y grows downwards."""
    angle = math.atan(pct_per_min / _HALF_RIGHT_PCT_PER_MIN)
    return QPointF(reach * math.cos(angle), -reach * math.sin(angle))


def _ring(centre: QPointF, radius: float, corners: int, *, turn: float) -> QPolygonF:
    angles = (math.radians(turn + 360 * i / corners) for i in range(corners))
    return QPolygonF([centre + QPointF(math.cos(a), math.sin(a)) * radius for a in angles])


def _bar(painter: QPainter, centre: QPointF, height: float, colour: QColor) -> None:
    """Draw an exclamation mark as two shapes: a font may lack its weight or its place."""
    width = max(1.5, height * 0.24)
    top = centre.y() - height / 2
    painter.setBrush(colour)
    painter.drawRect(QRectF(centre.x() - width / 2, top, width, height * 0.60))
    painter.drawRect(QRectF(centre.x() - width / 2, top + height * 0.74, width, height * 0.26))
