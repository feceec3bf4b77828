"""The Lanes page: a class on one screen, most urgent on top."""

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from livemon.tongue import said
from livemon.view.blink import lit
from livemon.view.clock_words import NO_BOUT
from livemon.view.lanes_layout import lanes_layout
from livemon.view.lanes_model import LanesModel
from livemon.view.model import ClockModel
from livemon.view.qt.boxes import whole
from livemon.view.qt.lane_strip import LaneFrame, LaneStrip
from livemon.view.qt.look import Look
from livemon.view.qt.scribe import Scribe, Written
from livemon.view.qt.whole_words import tell_whole


class LanesHeader(QWidget):
    """How many there are, the common clock, and what is on."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._shown = ("", NO_BOUT, "")
        self.written: list[Written] = []
        self.setAccessibleName(said("Class"))

    def set_look(self, look: Look) -> None:
        """Draw in these colours from now on."""
        self._look = look
        self.update()

    def show_words(self, title: str, clock: ClockModel, right: str) -> None:
        """Show these words."""
        if (title, clock, right) == self._shown:
            return
        if (title, right) != (self._shown[0], self._shown[2]):
            self.setAccessibleDescription(f"{title}. {right}")
        self._shown = (title, clock, right)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the line."""
        painter = QPainter(self)
        scribe = Scribe(painter, self._look.lettering)
        theme, height, width = self._look.theme, self.height() - 2.0, float(self.width())
        title, clock, right = self._shown
        row = QRectF(0, height * 0.14, width * 0.42, height * 0.72)
        name = scribe.line(said("Lanes"), row, theme.ink, bold=True)
        small = QRectF(name.right() + height * 0.4, height * 0.25, 0, height * 0.5)
        small.setRight(width * 0.42)
        scribe.line(title, small, theme.dim)
        digits = height * 0.56
        middle = QRectF(width * 0.44, height / 2 - digits / 2, width * 0.12, digits)
        elapsed = scribe.figure(clock.elapsed, middle, theme.ink)
        planned = QRectF(elapsed.right() + height * 0.15, height * 0.25, width * 0.1, height * 0.5)
        scribe.line(clock.planned, planned, theme.dim)
        summary = QRectF(width * 0.62, height * 0.25, width * 0.38, height * 0.5)
        scribe.line(right, summary, theme.dim, align=Qt.AlignmentFlag.AlignRight)
        painter.setPen(QColor(theme.rule))
        painter.drawLine(0, self.height() - 1, self.width(), self.height() - 1)
        painter.end()
        self.written = scribe.written
        tell_whole(self, self.written)


class LanesPage(QWidget):
    """Shows a LanesModel and decides nothing; strips are made once and kept."""

    opened = Signal(str)
    focused = Signal(str)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._header = LanesHeader(look, self)
        self._strips: list[LaneStrip] = []
        self._shown = 0

    @property
    def digit_px(self) -> float:
        """How tall the digits of heart rate are, the tallest on a strip."""
        strips = self._strips[: self._shown]
        return max((line.capital_px for strip in strips for line in strip.written), default=0.0)

    def set_look(self, look: Look) -> None:
        """Draw in these colours from now on."""
        self._look = look
        self._header.set_look(look)
        for strip in self._strips:
            strip.set_look(look)

    def show_model(self, model: LanesModel, selected: str | None, now_s: float) -> None:
        """Show every lane; `now_s` is the viewer's own time, for frames that blink."""
        if len(model.lanes) != self._shown:
            self._deal(len(model.lanes))
        right = " · ".join((model.summary, *model.remarks))
        self._header.show_words(model.title, model.clock, right)
        for strip, lane in zip(self._strips, model.lanes, strict=False):
            on = lit(lane.priority, now_s, motion=self._look.motion and lane.calls)
            strip.show_model(lane, LaneFrame(lit=on, selected=lane.athlete == selected))

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Place the strips anew."""
        self._place()

    def _deal(self, count: int) -> None:
        while len(self._strips) < count:
            strip = LaneStrip(self._look, self)
            strip.opened.connect(self.opened)
            strip.focused.connect(self.focused)
            self._strips.append(strip)
        self._shown = count
        for at, strip in enumerate(self._strips):
            strip.setVisible(at < count)
        self._place()

    def _place(self) -> None:
        layout = lanes_layout(self.width(), self.height(), self._shown)
        self._header.setGeometry(whole(layout.header))
        for strip, box in zip(self._strips, layout.lanes, strict=False):
            strip.setGeometry(whole(box))
