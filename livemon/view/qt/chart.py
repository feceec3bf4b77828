"""The strip chart: the last minutes of every site above, of heart rate below, one time axis.

Two panes instead of two scales on one: a muscle's curve never seems to cross heart rate.
"""

from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from livemon.view.axis import bpm_range, heading, smo2_range, ticks
from livemon.view.model import ChartModel, CurveModel, Tone
from livemon.view.qt.chart_frame import ChartFrame, chart_frame
from livemon.view.qt.curve import draw_curve
from livemon.view.qt.look import Look
from livemon.view.qt.scribe import Scribe, Written
from livemon.view.qt.shapes import curve_colour, draw_marker
from livemon.view.spread import spread

_FAN_ALPHA: Final = 80
#: Lower lines than this would run into each other.
_LEAST_LINE_PX: Final = 12


class Chart(QWidget):
    """Curves, own lows, forecast fans, bouts and warnings."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._model: ChartModel | None = None
        self.written: list[Written] = []
        self.setAccessibleName("Strip chart")

    def set_look(self, look: Look) -> None:
        """Draw in these colours from now on."""
        self._look = look
        self.update()

    def show_model(self, model: ChartModel) -> None:
        """Show `model`; the same one again costs nothing."""
        if model == self._model:
            return
        self._model = model
        self.setAccessibleDescription(model.summary)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw from the back to the front: grid, lows, fans, curves, names."""
        model = self._model
        if model is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scribe = Scribe(painter, self._look.lettering)
        frame = chart_frame(float(self.width()), float(self.height()), model.window_s)
        smo2, bpm = smo2_range(model), bpm_range(model)
        self._draw_pane(painter, scribe, frame, frame.smo2, smo2)
        self._draw_pane(painter, scribe, frame, frame.bpm, bpm)
        unit = QRectF(0, frame.smo2.top() - frame.text_px * 1.45, frame.smo2.left(), frame.text_px)
        scribe.line("SmO₂ %", unit, self._look.theme.dim)
        self._draw_times(painter, scribe, frame, model)
        self._draw_bouts(painter, scribe, frame, model)
        self._draw_warnings(painter, frame, model)
        self._draw_lows(painter, scribe, frame, model, smo2)
        times = (model.now_s - model.window_s, model.now_s)
        for curve in model.sites:
            self._draw_fan(painter, frame, curve, smo2)
        for curve in model.sites:
            colour = curve_colour(self._look.theme, curve.place)
            draw_curve(
                painter, frame.past(frame.smo2), curve.trail, colour, times_s=times, values=smo2
            )
        self._draw_heart_rate(painter, frame, model, bpm)
        self._draw_names(painter, scribe, frame, model, (smo2, bpm))
        painter.end()
        self.written = scribe.written

    def _draw_pane(
        self,
        painter: QPainter,
        scribe: Scribe,
        frame: ChartFrame,
        pane: QRectF,
        values: tuple[float, float],
    ) -> None:
        theme, text = self._look.theme, frame.text_px
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.card))
        painter.drawRect(pane)
        most = max(1, int(pane.height() / (1.6 * text)))
        for value in ticks(*values, most=most):
            y = frame.level(pane, values, value)
            if not pane.top() + text * 0.4 <= y <= pane.bottom() - text * 0.4:
                continue
            painter.setPen(QColor(theme.rule))
            painter.drawLine(QPointF(pane.left(), y), QPointF(pane.right(), y))
            box = QRectF(0, y - text / 2, pane.left() - text * 0.4, text)
            scribe.line(f"{value:.0f}", box, theme.dim, align=Qt.AlignmentFlag.AlignRight)

    def _draw_times(
        self, painter: QPainter, scribe: Scribe, frame: ChartFrame, model: ChartModel
    ) -> None:
        theme, text = self._look.theme, frame.text_px
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
        width = scribe.width("now", text)
        scribe.line("now", QRectF(frame.now_x - width / 2, y, width + 2, text), theme.dim)

    def _draw_bouts(
        self, painter: QPainter, scribe: Scribe, frame: ChartFrame, model: ChartModel
    ) -> None:
        """Draw a bracket over each bout; a recovery only has the space between two."""
        theme, text = self._look.theme, frame.text_px
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

    def _draw_warnings(self, painter: QPainter, frame: ChartFrame, model: ChartModel) -> None:
        """Draw each warning as a bar at the foot, with a triangle where it came on."""
        theme, text = self._look.theme, frame.text_px
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

    def _draw_lows(
        self,
        painter: QPainter,
        scribe: Scribe,
        frame: ChartFrame,
        model: ChartModel,
        values: tuple[float, float],
    ) -> None:
        """Draw each athlete's own low as a dashed line; name it where the name has room."""
        text = frame.text_px
        named: list[float] = []
        for curve in model.sites:
            if curve.own_low is None:
                continue
            y = frame.level(frame.smo2, values, curve.own_low)
            colour = curve_colour(self._look.theme, curve.place)
            painter.setPen(QPen(QColor(colour), 1, Qt.PenStyle.DashLine))
            painter.drawLine(QPointF(frame.smo2.left(), y), QPointF(frame.smo2.right(), y))
            if any(abs(y - other) < text * 1.2 for other in named):
                continue
            named.append(y)
            above = y - text * 1.15 if y - text * 1.15 > frame.smo2.top() else y + text * 0.1
            left = frame.smo2.left() + text * 0.5
            centre = QPointF(left + text * 0.25, above + text * 0.5)
            draw_marker(painter, centre, text * 0.5, curve.place, self._look)
            box = QRectF(left + text * 0.8, above, text * 9, text)
            scribe.line(f"own low {curve.own_low:.0f} %", box, self._look.theme.dim)

    def _draw_fan(
        self, painter: QPainter, frame: ChartFrame, curve: CurveModel, values: tuple[float, float]
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
        colour = QColor(curve_colour(self._look.theme, curve.place))
        colour.setAlpha(_FAN_ALPHA)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour)
        painter.drawPolygon(QPolygonF(corners))

    def _draw_heart_rate(
        self, painter: QPainter, frame: ChartFrame, model: ChartModel, values: tuple[float, float]
    ) -> None:
        theme = self._look.theme
        if model.band is not None:
            painter.setPen(QPen(QColor(theme.scale), 1, Qt.PenStyle.DotLine))
            for limit in model.band:
                y = frame.level(frame.bpm, values, limit)
                painter.drawLine(QPointF(frame.bpm.left(), y), QPointF(frame.now_x, y))
        draw_curve(
            painter, frame.past(frame.bpm), model.heart_rate.trail, theme.ink,
            times_s=(model.now_s - model.window_s, model.now_s), values=values,
        )  # fmt: skip

    def _draw_names(
        self,
        painter: QPainter,
        scribe: Scribe,
        frame: ChartFrame,
        model: ChartModel,
        ranges: tuple[tuple[float, float], tuple[float, float]],
    ) -> None:
        """Name each curve at its end; names that would overlap move apart."""
        theme = self._look.theme
        left = frame.smo2.right() + frame.text_px * 0.6
        named = [(curve, frame.smo2, ranges[0]) for curve in model.sites]
        named.append((model.heart_rate, frame.bpm, ranges[1]))
        placed = [(curve, frame.level(pane, values, level)) for curve, pane, values in named
                  if (level := heading(curve)) is not None]  # fmt: skip
        top, bottom = frame.smo2.top(), frame.bpm.bottom()
        line = min(frame.text_px, (bottom - top) / max(len(placed), 1))
        centres = spread([y for _, y in placed], line, top, bottom)
        for (curve, _), y in zip(placed, centres, strict=True):
            dot = line * 0.5
            if curve.place >= 0:
                draw_marker(painter, QPointF(left + dot / 2, y), dot, curve.place, self._look)
            colour = theme.ink if curve.tone is Tone.FRESH else theme.dim
            box = QRectF(left + dot * 1.6, y - line / 2, self.width() - left - dot * 1.6, line)
            if line >= _LEAST_LINE_PX:  # else the markers alone; the cards have the names
                scribe.line(curve.label, box, colour)
