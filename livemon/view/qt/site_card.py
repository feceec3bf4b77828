"""One muscle site: number, tilt, balance, rate with interval, and one further line."""

from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from livemon.tongue import marked, said
from livemon.view.model import SiteModel, Tone
from livemon.view.numbers import DASH
from livemon.view.qt.card_frame import CardFrame, card_frame
from livemon.view.qt.look import Look
from livemon.view.qt.scribe import Scribe, Written
from livemon.view.qt.shapes import draw_fault, draw_marker, draw_priority, draw_tilt
from livemon.view.qt.whole_words import tell_whole
from livemon.view.refill_words import in_one_line
from livemon.view.words import widest_balance

_FRAME_PX: Final = 3.0
#: The widest texts that are likely set the size, so that it keeps still.
_WIDEST_TREND: Final = marked("−10.0 %/min  (−12.0 to −10.0)")
_WIDEST_DETAIL: Final = marked("19 points of room, low in 14–16 min")
_WIDEST_SHARE: Final = marked("refilled to 100 % of baseline after 10:00")
_WIDEST_REFILL: Final = marked("100 % of baseline after 10:00, half back in 59 s")


class SiteCard(QWidget):
    """The card of the site in one place of the page."""

    def __init__(self, look: Look, place: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._place = place
        self._model: SiteModel | None = None
        self._lit = True
        self.written: list[Written] = []
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def set_look(self, look: Look) -> None:
        """Draw in these colours from now on."""
        self._look = look
        self.update()

    def show_model(self, model: SiteModel, *, lit: bool) -> None:
        """Show `model`; `lit` is False in the dark half of a blinking frame."""
        if (model, lit) == (self._model, self._lit):
            return
        if self._model is None or self._model.name != model.name:
            self.setAccessibleName(model.name)
        self._model, self._lit = model, lit
        self.setAccessibleDescription(model.spoken)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the card."""
        model = self._model
        if model is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scribe = Scribe(painter, self._look.lettering)
        self._draw_ground(painter, model)
        lines = 3 if model.further is None else 4
        frame = card_frame(float(self.width()), float(self.height()), lines=lines)
        self._draw_value(painter, scribe, model, frame)
        if model.tone is Tone.FRESH:
            self._draw_words(scribe, model, frame)
        else:
            self._draw_fault(painter, scribe, model, frame)
        if model.warning is not None:
            draw_priority(painter, frame.symbol, model.warning, self._look)
        painter.end()
        self.written = scribe.written
        tell_whole(self, self.written, model.name)

    def _draw_ground(self, painter: QPainter, model: SiteModel) -> None:
        theme = self._look.theme
        box = QRectF(0, 0, self.width(), self.height())
        frame = None
        if model.warning is not None and self._lit:
            frame = theme.priority[model.warning]
        elif self.hasFocus():
            frame = theme.focus
        painter.setPen(Qt.PenStyle.NoPen)
        if frame is not None:
            painter.setBrush(QColor(frame))
            painter.drawRoundedRect(box, 8, 8)
            box = box.adjusted(_FRAME_PX, _FRAME_PX, -_FRAME_PX, -_FRAME_PX)
        painter.setBrush(QColor(theme.card))
        painter.drawRoundedRect(box, 6, 6)

    def _draw_value(
        self, painter: QPainter, scribe: Scribe, model: SiteModel, frame: CardFrame
    ) -> None:
        theme, name = self._look.theme, frame.name
        size = name.height() * 0.5
        centre = QPointF(name.left() + size / 2, name.center().y())
        draw_marker(painter, centre, size, self._place, self._look)
        scribe.line(model.name, name.adjusted(size * 1.6, 0, 0, 0), theme.dim)
        colour = theme.ink if model.tone is Tone.FRESH else theme.old
        number = scribe.figure(model.text, frame.number, colour, widest="88")
        if model.text != DASH:
            unit = frame.number.height() * 0.45
            box = QRectF(
                number.right() + unit * 0.2, number.bottom() - unit * 0.79, unit * 1.1, unit
            )
            scribe.line("%", box, theme.dim)
        if model.tilt is not None:
            draw_tilt(painter, frame.tilt, model.tilt, self._place, self._look)

    def _draw_words(self, scribe: Scribe, model: SiteModel, frame: CardFrame) -> None:
        theme = self._look.theme
        scribe.line(model.balance, frame.balance, theme.ink, bold=True, widest=widest_balance())
        self._draw_trend(scribe, model, frame.rate)
        if model.further is None:
            scribe.line(model.detail, frame.detail, theme.dim, widest=said(_WIDEST_DETAIL))
        elif frame.further is None:
            both = in_one_line(model.detail, model.further)
            scribe.line(both, frame.detail, theme.dim, widest=said(_WIDEST_REFILL))
        else:
            scribe.line(model.detail, frame.detail, theme.dim, widest=said(_WIDEST_SHARE))
            scribe.line(model.further, frame.further, theme.dim, widest=said(_WIDEST_SHARE))

    def _draw_fault(
        self, painter: QPainter, scribe: Scribe, model: SiteModel, frame: CardFrame
    ) -> None:
        """Write what is wrong with the sensor where the balance would stand."""
        area, size = frame.fault, frame.fault.height() * 0.62
        symbol = QRectF(area.left(), area.center().y() - size / 2, size, size)
        draw_fault(painter, symbol, self._look.theme.dim)
        scribe.line(model.detail, area.adjusted(size * 1.4, 0, 0, 0), self._look.theme.ink)

    def _draw_trend(self, scribe: Scribe, model: SiteModel, box: QRectF) -> None:
        """Write rate and interval on one line, in one size that fits both."""
        shown = f"{model.rate}  {model.interval}"
        needed = max(scribe.width(text, box.height()) for text in (shown, said(_WIDEST_TREND)))
        line = box.height() * min(1.0, box.width() / needed)
        box = QRectF(box.left(), box.center().y() - line / 2, box.width(), line)
        sure = model.tilt is None or model.tilt.sure
        colour = self._look.theme.ink if sure else self._look.theme.dim
        rate = scribe.line(model.rate, box, colour)
        box.setLeft(rate.right() + scribe.width("  ", line))
        scribe.line(model.interval, box, self._look.theme.dim)
