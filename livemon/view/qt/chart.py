"""The strip chart: the last minutes of every site above, of heart rate below, one time axis.

Two panes instead of two scales on one: a muscle's curve never seems to cross heart rate.
"""

from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from livemon.tongue import said
from livemon.view.axis import bpm_range, heading, smo2_range
from livemon.view.model import ChartModel, Tone
from livemon.view.qt.chart_axes import draw_pane, draw_times
from livemon.view.qt.chart_frame import ChartFrame, chart_frame
from livemon.view.qt.chart_marks import draw_bouts, draw_fan, draw_lows, draw_warnings
from livemon.view.qt.curve import draw_curve
from livemon.view.qt.look import Look
from livemon.view.qt.scribe import Scribe, Written
from livemon.view.qt.shapes import curve_colour, draw_marker
from livemon.view.qt.whole_words import tell_whole
from livemon.view.spread import spread

#: Lower lines than this would run into each other.
_LEAST_LINE_PX: Final = 12


class Chart(QWidget):
    """Curves, own lows, forecast fans, bouts and warnings."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._model: ChartModel | None = None
        self.written: list[Written] = []
        self.setAccessibleName(said("Strip chart"))

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
        look = self._look
        draw_pane(painter, scribe, look, frame, frame.smo2, smo2)
        draw_pane(painter, scribe, look, frame, frame.bpm, bpm)
        unit = QRectF(0, frame.smo2.top() - frame.text_px * 1.45, frame.smo2.left(), frame.text_px)
        scribe.line("SmO₂ %", unit, self._look.theme.dim)
        draw_times(painter, scribe, frame, model, look)
        draw_bouts(painter, scribe, frame, model, look)
        draw_warnings(painter, frame, model, look)
        draw_lows(painter, scribe, frame, model, look, smo2)
        times = (model.now_s - model.window_s, model.now_s)
        for curve in model.sites:
            draw_fan(painter, frame, curve, look, smo2)
        for curve in model.sites:
            colour = curve_colour(self._look.theme, curve.place)
            draw_curve(
                painter, frame.past(frame.smo2), curve.trail, colour, times_s=times, values=smo2
            )
        self._draw_heart_rate(painter, frame, model, bpm)
        self._draw_names(painter, scribe, frame, model, (smo2, bpm))
        painter.end()
        self.written = scribe.written
        tell_whole(self, self.written)

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
