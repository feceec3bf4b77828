"""What is marked on the strip chart: bouts, warnings, own lows, and where a curve may go."""

from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from livemon.tongue import said
from livemon.view.model import ChartModel, CurveModel
from livemon.view.qt.chart_frame import ChartFrame
from livemon.view.qt.look import Look
from livemon.view.qt.scribe import Scribe
from livemon.view.qt.shapes import curve_colour, draw_marker

_FAN_ALPHA: Final = 80


def draw_bouts(
    painter: QPainter, scribe: Scribe, frame: ChartFrame, model: ChartModel, look: Look
) -> None:
    """Draw a bracket over each bout; a recovery only has the space between two."""
    theme, text = look.theme, frame.text_px
    top = frame.smo2.top() - text * 0.35
    for bout in model.bouts:
        end_s = model.now_s if bout.end_s is None else bout.end_s
        left = max(frame.at(bout.start_s, model.now_s), frame.smo2.left())
        right = min(frame.at(end_s, model.now_s), frame.now_x)
        if right - left < 3:
            continue
        if not bout.resting:
            painter.setPen(QColor(theme.scale))
            painter.drawLine(QPointF(left + 1, top), QPointF(right - 1, top))
            if bout.start_s >= model.now_s - model.window_s:
                painter.drawLine(QPointF(left + 1, top), QPointF(left + 1, top + text * 0.3))
            if bout.end_s is not None:
                painter.drawLine(QPointF(right - 1, top), QPointF(right - 1, top + text * 0.3))
        if right - left > 4 * text:
            box = QRectF(left + text * 0.3, top - text * 1.1, right - left - text * 0.6, text)
            scribe.line(bout.label, box, theme.dim)


def draw_warnings(painter: QPainter, frame: ChartFrame, model: ChartModel, look: Look) -> None:
    """Draw each warning as a bar at the foot, with a triangle where it came on."""
    theme, text = look.theme, frame.text_px
    y = frame.smo2.bottom() - text * 0.28
    painter.setPen(Qt.PenStyle.NoPen)
    for warning in model.warnings:
        off_s = model.now_s if warning.off_s is None else warning.off_s
        on_x = frame.at(warning.on_s, model.now_s)
        left = max(on_x, frame.smo2.left())
        right = min(frame.at(off_s, model.now_s), frame.now_x)
        painter.setBrush(QColor(theme.priority[warning.priority]))
        painter.drawRect(QRectF(left, y, max(right - left, 1.0), text * 0.16))
        if on_x >= frame.smo2.left():
            foot, size = QPointF(on_x, y), text * 0.4
            painter.drawPolygon(
                QPolygonF([foot + QPointF(-size, 0), foot + QPointF(size, 0),
                           foot + QPointF(0, -size * 1.7)])
            )  # fmt: skip


def draw_lows(
    painter: QPainter,
    scribe: Scribe,
    frame: ChartFrame,
    model: ChartModel,
    look: Look,
    values: tuple[float, float],
) -> None:
    """Draw each athlete's own low as a dashed line; name it where the name has room."""
    text = frame.text_px
    named: list[float] = []
    for curve in model.sites:
        if curve.own_low is None:
            continue
        y = frame.level(frame.smo2, values, curve.own_low)
        colour = curve_colour(look.theme, curve.place)
        painter.setPen(QPen(QColor(colour), 1, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(frame.smo2.left(), y), QPointF(frame.smo2.right(), y))
        if any(abs(y - other) < text * 1.2 for other in named):
            continue
        named.append(y)
        above = y - text * 1.15 if y - text * 1.15 > frame.smo2.top() else y + text * 0.1
        left = frame.now_x + text * 0.5  # right of now no curve can run through the words
        centre = QPointF(left + text * 0.25, above + text * 0.5)
        draw_marker(painter, centre, text * 0.5, curve.place, look)
        box = QRectF(left + text * 0.8, above, frame.smo2.right() - left - text, text)
        scribe.line(
            said("own low {percent} %", percent=f"{curve.own_low:.0f}"), box, look.theme.dim
        )


def draw_fan(
    painter: QPainter, frame: ChartFrame, curve: CurveModel, look: Look, values: tuple[float, float]
) -> None:
    """Draw where the curve may go until the athlete's own low, cut off at the right edge."""
    if curve.forecast is None or curve.last is None:
        return
    soonest_s, latest_s, low = curve.forecast
    pane = frame.smo2
    start = QPointF(frame.now_x, frame.level(pane, values, curve.last))
    floor = frame.level(pane, values, low)
    ahead_s = (pane.right() - frame.now_x) / frame.px_per_s
    corners = [start]
    for seconds in (soonest_s, latest_s):
        share = min(1.0, ahead_s / max(seconds, 1.0))
        x = frame.now_x + min(seconds, ahead_s) * frame.px_per_s
        corners.append(QPointF(x, start.y() + (floor - start.y()) * share))
    if soonest_s < ahead_s < latest_s:
        corners.insert(2, QPointF(pane.right(), floor))
    colour = QColor(curve_colour(look.theme, curve.place))
    colour.setAlpha(_FAN_ALPHA)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    painter.drawPolygon(QPolygonF(corners))
