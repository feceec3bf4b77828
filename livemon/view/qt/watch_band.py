"""The watch line as a band: loud when a warning is on, one quiet line when none is."""

from typing import Final

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from livemon.tongue import said
from livemon.view.model import WatchModel
from livemon.view.qt.look import Look
from livemon.view.qt.scribe import Scribe, Written
from livemon.view.qt.shapes import draw_fault, draw_priority
from livemon.view.qt.whole_words import tell_whole

_FRAME_PX: Final = 3.0


class WatchBand(QWidget):
    """Its place is always kept, so that a warning moves nothing else."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._model = WatchModel(None, "", fault=False)
        self._lit = True
        self.written: list[Written] = []
        self.setAccessibleName(said("Watch"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def set_look(self, look: Look) -> None:
        """Draw in these colours from now on."""
        self._look = look
        self.update()

    def show_model(self, model: WatchModel, *, lit: bool) -> None:
        """Show `model`; `lit` is False in the dark half of a blinking frame."""
        if (model, lit) == (self._model, self._lit):
            return
        self._model, self._lit = model, lit
        self.setAccessibleDescription(model.sentence)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the band. The frame may blink; the words and the symbol never do."""
        model, theme = self._model, self._look.theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scribe = Scribe(painter, self._look.lettering)
        height = float(self.height())
        box = QRectF(0, 0, self.width(), height)
        if model.priority is not None:
            self._draw_frame(
                painter, box, theme.priority[model.priority], theme.band[model.priority]
            )
            size = height * 0.52
            symbol = QRectF(height * 0.3, (height - size) / 2, size, size)
            draw_priority(painter, symbol, model.priority, self._look)
            line = QRectF(symbol.right() + height * 0.3, height * 0.14, 0, height * 0.72)
            line.setRight(self.width() - height * 0.3)
            scribe.sentence(model.sentence, line, theme.ink)
        else:
            self._draw_quiet(painter, scribe, height)
        if self.hasFocus():
            painter.setPen(QColor(theme.focus))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(box.adjusted(0.5, 0.5, -0.5, -0.5))
        painter.end()
        self.written = scribe.written
        tell_whole(self, self.written)

    def _draw_frame(self, painter: QPainter, box: QRectF, frame: str, ground: str) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(frame if self._lit else ground))
        painter.drawRoundedRect(box, 8, 8)
        painter.setBrush(QColor(ground))
        painter.drawRoundedRect(box.adjusted(_FRAME_PX, _FRAME_PX, -_FRAME_PX, -_FRAME_PX), 6, 6)

    def _draw_quiet(self, painter: QPainter, scribe: Scribe, height: float) -> None:
        theme, left = self._look.theme, 0.0
        if self._model.fault:
            size = height * 0.36
            draw_fault(painter, QRectF(0, (height - size) / 2, size, size), theme.dim)
            left = size * 1.5
        if self._model.announces:  # to be read from where the work is done
            line = QRectF(0, height * 0.14, self.width(), height * 0.72)
            scribe.line(self._model.sentence, line, theme.ink, bold=True)
            return
        line = QRectF(left, height * 0.24, self.width() - left, height * 0.52)
        scribe.line(self._model.sentence, line, theme.dim)
