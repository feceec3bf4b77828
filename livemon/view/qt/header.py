"""The top line of the Pace page: who, which bout, how long, and quiet remarks."""

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from livemon.tongue import said
from livemon.view.model import ClockModel
from livemon.view.qt.look import Look
from livemon.view.qt.scribe import Scribe, Written
from livemon.view.qt.whole_words import tell_whole


class Header(QWidget):
    """Name and bout on the left, the clock in the middle, remarks on the right."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._name = ""
        self._clock = ClockModel("", "", "")
        self._remarks: tuple[str, ...] = ()
        self.written: list[Written] = []
        self.setAccessibleName(said("Athlete and bout clock"))

    def set_look(self, look: Look) -> None:
        """Draw in these colours from now on."""
        self._look = look
        self.update()

    def show_model(self, name: str, clock: ClockModel, remarks: tuple[str, ...]) -> None:
        """Show these words."""
        if (name, clock, remarks) == (self._name, self._clock, self._remarks):
            return
        self._name, self._clock, self._remarks = name, clock, remarks
        spoken = (name, clock.title, clock.elapsed, clock.planned, *remarks)
        self.setAccessibleDescription(", ".join(part for part in spoken if part))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the line."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scribe = Scribe(painter, self._look.lettering)
        theme = self._look.theme
        height, width = self.height() - 2.0, float(self.width())
        clock = self._draw_clock(scribe, width, height)
        small = height * 0.46
        gap = height * 0.4
        left_end = (clock.left() if clock else width * 0.6) - gap
        name_width = left_end * (0.5 if self._clock.title else 1.0)
        name = scribe.line(
            self._name, QRectF(0, height * 0.1, name_width, height * 0.8), theme.ink, bold=True
        )
        at = name.right() + gap
        scribe.line(self._clock.title, QRectF(at, height * 0.27, left_end - at, small), theme.dim)
        at = (clock.right() if clock else left_end) + 1.5 * gap
        scribe.line(
            "   ".join(self._remarks),
            QRectF(at, height * 0.27, width - at, small),
            theme.dim,
            align=Qt.AlignmentFlag.AlignRight,
        )
        painter.setPen(QColor(theme.rule))
        painter.drawLine(0, self.height() - 1, self.width(), self.height() - 1)
        painter.end()
        self.written = scribe.written
        tell_whole(self, self.written)

    def _draw_clock(self, scribe: Scribe, width: float, height: float) -> QRectF | None:
        """Draw the clock so that its digits stay where they are while they count."""
        if not self._clock.elapsed:
            return None
        theme = self._look.theme
        widest = "".join("0" if c.isdigit() else c for c in self._clock.elapsed)
        digits = height * 0.62
        box = QRectF(width * 0.44, height * 0.5 - digits / 2, width * 0.2, digits)
        elapsed = scribe.figure(self._clock.elapsed, box, theme.ink, widest=widest)
        planned_left = elapsed.right() + height * 0.18
        planned = scribe.line(
            self._clock.planned,
            QRectF(planned_left, height * 0.3, width * 0.14, height * 0.56),
            theme.dim,
        )
        return elapsed.united(planned) if self._clock.planned else elapsed
