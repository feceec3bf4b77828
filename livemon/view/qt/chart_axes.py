"""The ground of the strip chart: panes with their value lines, and the time below."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter

from livemon.tongue import said
from livemon.view.axis import ticks
from livemon.view.model import ChartModel
from livemon.view.qt.chart_frame import ChartFrame
from livemon.view.qt.look import Look
from livemon.view.qt.scribe import Scribe


def draw_pane(
    painter: QPainter,
    scribe: Scribe,
    look: Look,
    frame: ChartFrame,
    pane: QRectF,
    values: tuple[float, float],
) -> None:
    """Draw one pane's ground and its value lines, with the values on the left."""
    theme, text = look.theme, frame.text_px
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(theme.card))
    painter.drawRect(pane)
    most = max(1, int(pane.height() / (1.25 * text)))
    for value in ticks(*values, most=most):
        y = frame.level(pane, values, value)
        if not pane.top() + text * 0.4 <= y <= pane.bottom() - text * 0.4:
            continue
        painter.setPen(QColor(theme.rule))
        painter.drawLine(QPointF(pane.left(), y), QPointF(pane.right(), y))
        box = QRectF(0, y - text / 2, pane.left() - text * 0.4, text)
        scribe.line(f"{value:.0f}", box, theme.dim, align=Qt.AlignmentFlag.AlignRight)


def draw_times(
    painter: QPainter, scribe: Scribe, frame: ChartFrame, model: ChartModel, look: Look
) -> None:
    """Draw minutes before now below both panes, and the line of now through them."""
    theme, text = look.theme, frame.text_px
    y = frame.bpm.bottom() + text * 0.25
    minutes = int(model.window_s // 60)
    step = 1 if minutes <= 3 else 2 if minutes <= 12 else 10
    for minute in range(step, minutes + 1, step):
        x = frame.now_x - minute * 60 * frame.px_per_s
        label = f"−{minute} min"
        width = scribe.width(label, text)
        left = max(x - width / 2, frame.smo2.left())
        scribe.line(label, QRectF(left, y, width + 2, text), theme.dim)
        painter.setPen(QColor(theme.rule))
        for pane in (frame.smo2, frame.bpm):
            painter.drawLine(QPointF(x, pane.top()), QPointF(x, pane.bottom()))
    painter.setPen(QColor(theme.scale))
    painter.drawLine(
        QPointF(frame.now_x, frame.smo2.top()), QPointF(frame.now_x, frame.bpm.bottom())
    )
    width = scribe.width(said("now"), text)
    scribe.line(said("now"), QRectF(frame.now_x - width / 2, y, width + 2, text), theme.dim)
