"""How hard the work is, on one line: power, speed, cadence, distance, arterial saturation."""

from typing import Final

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from livemon.tongue import said
from livemon.view.model import EffortModel, Tone
from livemon.view.qt.look import Look
from livemon.view.qt.scribe import Scribe, Written
from livemon.view.qt.whole_words import tell_whole

#: A value keeps its place when its neighbour grows by a digit; with few values, none is lost
#: at the far end of the line.
_FEWEST_PLACES: Final = 4
_GAP_SHARE: Final = 0.4  #: of the height, between two values


class EffortLine(QWidget):
    """Shows EffortModels side by side and decides nothing."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._models: tuple[EffortModel, ...] = ()
        self.written: list[Written] = []
        self.setAccessibleName(said("How hard the work is"))

    def set_look(self, look: Look) -> None:
        """Draw in these colours from now on."""
        self._look = look
        self.update()

    def show_models(self, models: tuple[EffortModel, ...]) -> None:
        """Show these values; the same ones again cost nothing."""
        if models == self._models:
            return
        self._models = models
        self.setAccessibleDescription(", ".join(f"{one.name} {one.whole}" for one in models))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the values, each at its own place; long ones close up, and smaller if they must."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scribe = Scribe(painter, self._look.lettering)
        theme, height, room = self._look.theme, float(self.height()), float(self.width())
        gap = height * _GAP_SHARE
        widths = [scribe.width(one.whole, height) + gap for one in self._models]
        step = room / max(len(widths), _FEWEST_PLACES)
        if max(widths, default=0.0) <= step:
            widths = [step] * len(widths)
        spare = max(room - sum(widths), 0.0) / max(len(widths), _FEWEST_PLACES)
        share = min(1.0, room / max(sum(widths), 1.0))
        left = 0.0
        for one, width in zip(self._models, widths, strict=True):
            line = height * share
            box = QRectF(left, (height - line) / 2, (width - gap) * share + 1, line)
            scribe.line(one.whole, box, theme.ink if one.tone is Tone.FRESH else theme.old)
            left += width * share + spare
        painter.end()
        self.written = scribe.written
        tell_whole(self, self.written)
