"""A lane's strip chart: curves only, drawn anew when time has moved on by a pixel.

Ten frames a second move such a chart by a small part of a pixel each. So it is kept as a picture
and only drawn again when a column has passed: for five minutes on two hundred pixels that is every
second and a half.
"""

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPixmap

from livemon.view.axis import smo2_range
from livemon.view.model import ChartModel
from livemon.view.qt.curve import draw_curve
from livemon.view.qt.look import Look
from livemon.view.qt.shapes import curve_colour


class SmallChart:
    """The picture, and what it was made from."""

    def __init__(self) -> None:
        self._made: tuple[int, QSize, float, Look] | None = None
        self._picture = QPixmap()

    def is_due(self, chart: ChartModel, width: float) -> bool:
        """Return whether time has moved on by a pixel since the picture was made."""
        return self._made is None or self._made[0] != _column(chart, width)

    def draw(
        self, painter: QPainter, box: QRectF, chart: ChartModel, look: Look, ratio: float
    ) -> None:
        """Draw the picture into `box`, after making it anew where needed."""
        size = QSize(round(box.width() * ratio), round(box.height() * ratio))
        key = (_column(chart, box.width()), size, ratio, look)
        if key != self._made:
            self._picture = _picture(size, ratio, box, chart, look)
            self._made = key
        painter.drawPixmap(box.topLeft(), self._picture)


def _column(chart: ChartModel, width: float) -> int:
    return int(chart.now_s * max(width, 1.0) / chart.window_s)


def _picture(size: QSize, ratio: float, box: QRectF, chart: ChartModel, look: Look) -> QPixmap:
    picture = QPixmap(size)
    picture.setDevicePixelRatio(ratio)
    picture.fill(QColor(look.theme.card))
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    area = QRectF(0, 0, box.width(), box.height())
    painter.setPen(QColor(look.theme.rule))
    painter.drawLine(area.topLeft(), area.bottomLeft())
    values = smo2_range(chart)
    times = (chart.now_s - chart.window_s, chart.now_s)
    for curve in chart.sites:
        colour = curve_colour(look.theme, curve.place)
        draw_curve(painter, area, curve.trail, colour, times_s=times, values=values)
    _draw_warnings(painter, area, chart, look)
    painter.end()
    return picture


def _draw_warnings(painter: QPainter, area: QRectF, chart: ChartModel, look: Look) -> None:
    per_s = area.width() / chart.window_s
    painter.setPen(Qt.PenStyle.NoPen)
    for warning in chart.warnings:
        off_s = chart.now_s if warning.off_s is None else warning.off_s
        left = max(area.right() - (chart.now_s - warning.on_s) * per_s, area.left())
        right = area.right() - (chart.now_s - off_s) * per_s
        painter.setBrush(QColor(look.theme.priority[warning.priority]))
        painter.drawRect(QRectF(left, area.bottom() - 3, max(right - left, 1.0), 3))
