"""Heart rate, large, with a pointer beside the band that is to be held."""

from typing import Final

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from livemon.tongue import said
from livemon.view.model import HeartRateModel, Tone
from livemon.view.qt.band_gauge import band_level, draw_band
from livemon.view.qt.look import Look
from livemon.view.qt.scribe import Scribe, Written
from livemon.view.qt.whole_words import tell_whole

#: Height of bold digits by the width of three of them; where a font differs, it is set smaller.
_DIGIT_SHARE: Final = 0.35


class HeartRatePanel(QWidget):
    """Label, number, band and one line of words."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._model: HeartRateModel | None = None
        self.written: list[Written] = []
        self.setAccessibleName(said("Heart rate"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def set_look(self, look: Look) -> None:
        """Draw in these colours from now on."""
        self._look = look
        self.update()

    def show_model(self, model: HeartRateModel) -> None:
        """Show `model`; the same one again costs nothing."""
        if model == self._model:
            return
        self._model = model
        self.setAccessibleDescription(model.spoken)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the number first, the rest around it."""
        model = self._model
        if model is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scribe = Scribe(painter, self._look.lettering)
        theme = self._look.theme
        width, height = float(self.width()), float(self.height())
        label, line = min(height * 0.09, width * 0.065), min(height * 0.12, width * 0.085)
        scribe.line(said("Heart rate, bpm"), QRectF(0, 0, width, label), theme.dim)
        gauge = width * 0.22 if model.band else 0.0
        top, bottom = label * 1.7, height - line * 1.7
        number_width = width - gauge - width * 0.03
        digits = min(bottom - top, number_width * _DIGIT_SHARE)
        box = QRectF(0, (top + bottom - digits) / 2, number_width, digits)
        colour = theme.ink if model.tone is Tone.FRESH else theme.old
        scribe.figure(model.text, box, colour, widest="188")
        scribe.line(model.line, QRectF(0, height - line, width, line), theme.ink)
        if model.band:
            area = QRectF(width - gauge, box.top(), gauge, box.height())
            self._draw_band(painter, scribe, area, model.bpm, model.band)
        if self.hasFocus():
            painter.setPen(QColor(theme.focus))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(0.5, 0.5, width - 1, height - 1))
        painter.end()
        self.written = scribe.written
        tell_whole(self, self.written)

    def _draw_band(
        self,
        painter: QPainter,
        scribe: Scribe,
        area: QRectF,
        bpm: float | None,
        band: tuple[int, int],
    ) -> None:
        left = draw_band(painter, area, band, bpm, self._look)
        text = min(area.height() * 0.15, area.width() * 0.34)
        for limit in band:
            top = band_level(area, band, limit) - text / 2
            box = QRectF(left, top, area.right() - left, text)
            scribe.line(str(limit), box, self._look.theme.dim)
