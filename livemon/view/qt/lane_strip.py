"""One athlete as a strip. Only the cells whose words have changed are painted again."""

from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from livemon.tongue import said
from livemon.view.lanes_layout import LaneLayout, lane_layout
from livemon.view.lanes_model import LaneModel, Urgency
from livemon.view.model import Tone
from livemon.view.qt.boxes import exact
from livemon.view.qt.lane_cells import draw_clock, draw_heart_rate, draw_name, draw_site
from livemon.view.qt.look import Look
from livemon.view.qt.scribe import Scribe, Written
from livemon.view.qt.small_chart import SmallChart
from livemon.view.qt.whole_words import tell_whole
from livemon.view.site_choice import chosen_sites

_FRAME_PX: Final = 2.0
_FRAMED: Final = {Urgency.DRAIN, Urgency.CAUTION, Urgency.MISSED}


@dataclass(frozen=True, slots=True)
class LaneFrame:
    """How the strip is framed: a warning that may blink, a fault, or the keyboard's choice."""

    lit: bool
    selected: bool


class LaneStrip(QWidget):
    """Shows a LaneModel and decides nothing."""

    opened = Signal(str)
    focused = Signal(str)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._model: LaneModel | None = None
        self._frame = LaneFrame(lit=True, selected=False)
        self._layout: LaneLayout = lane_layout(1, 1, 0)
        self._chart = SmallChart()
        self._cells: dict[str, list[Written]] = {}
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)

    @property
    def written(self) -> list[Written]:
        """Every line of text on the strip."""
        return [line for lines in self._cells.values() for line in lines]

    def set_look(self, look: Look) -> None:
        """Draw in these colours from now on."""
        self._look = look
        self.update()

    def show_model(self, model: LaneModel, frame: LaneFrame) -> None:
        """Show `model`, touching only what differs from the last one."""
        before, self._model = self._model, model
        if before is None or len(before.sites) != len(model.sites):
            self._arrange()
        if before is None or before.athlete != model.athlete:
            self.setAccessibleName(
                said("Lane {number}, {name}", number=model.number, name=model.name)
            )
        if before is None or before.spoken != model.spoken:
            self.setAccessibleDescription(model.spoken)
        whole = before is None or frame != self._frame or before.athlete != model.athlete
        self._frame = frame
        if whole or before is None or before.urgency is not model.urgency:
            self.update()
            return
        for cell, box in self._boxes():
            if _content(before, cell) != _content(model, cell):
                self.update(box.toAlignedRect())
        chart = self._layout.chart
        if chart is not None and self._chart.is_due(model.chart, chart.width):
            self.update(exact(chart).toAlignedRect())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Divide the strip anew."""
        self._arrange()

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Choose the athlete, as the arrow keys do."""
        if self._model is not None:
            self.focused.emit(self._model.athlete)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Open the athlete's own page."""
        if self._model is not None and self.rect().contains(event.position().toPoint()):
            self.opened.emit(self._model.athlete)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the cells that lie in the region to be painted."""
        model = self._model
        if model is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._draw_ground(painter, model)
        region = event.region()
        for cell, box in self._boxes():
            if region.intersects(box.toAlignedRect()):
                scribe = Scribe(painter, self._look.lettering)
                self._draw_cell(painter, scribe, cell, box, model)
                self._cells[cell] = scribe.written
        chart = self._layout.chart
        if chart is not None and region.intersects(exact(chart).toAlignedRect()):
            ratio = self.devicePixelRatioF()
            self._chart.draw(painter, exact(chart), model.chart, self._look, ratio)
        painter.end()
        tell_whole(self, self.written)

    def _arrange(self) -> None:
        sites = 0 if self._model is None else len(self._model.sites)
        self._layout = lane_layout(self.width(), self.height(), sites)
        self._cells.clear()
        self.update()

    def _boxes(self) -> list[tuple[str, QRectF]]:
        layout = self._layout
        boxes = [("name", exact(layout.name)), ("rate", exact(layout.heart_rate))]
        boxes += [(f"site {i}", exact(box)) for i, box in enumerate(layout.sites)]
        return [*boxes, ("clock", exact(layout.clock))]

    def _draw_ground(self, painter: QPainter, model: LaneModel) -> None:
        theme = self._look.theme
        box = QRectF(self.rect())
        painter.fillRect(box, QColor(theme.ground))
        painter.setPen(Qt.PenStyle.NoPen)
        frame = None
        if model.priority is not None and model.urgency in _FRAMED:
            frame = theme.priority[model.priority] if self._frame.lit else None
        elif model.urgency is Urgency.FAULT:
            frame = theme.scale
        if frame is not None:
            painter.setBrush(QColor(frame))
            painter.drawRoundedRect(box, 7, 7)
            box = box.adjusted(_FRAME_PX, _FRAME_PX, -_FRAME_PX, -_FRAME_PX)
        painter.setBrush(QColor(theme.card))
        painter.drawRoundedRect(box, 6, 6)
        if self._frame.selected:
            edge = box.adjusted(1, 1, 0, -1)
            edge.setWidth(5)
            painter.setBrush(QColor(theme.focus))
            painter.drawRoundedRect(edge, 2, 2)

    def _draw_cell(
        self, painter: QPainter, scribe: Scribe, cell: str, box: QRectF, model: LaneModel
    ) -> None:
        if cell == "name":
            draw_name(painter, scribe, box, model, self._look)
        elif cell == "rate":
            draw_heart_rate(painter, scribe, box, model.heart_rate, self._look)
        elif cell == "clock":
            draw_clock(scribe, box, model, self._look)
        else:
            places = chosen_sites(model.sites, len(self._layout.sites))
            at = int(cell.removeprefix("site "))
            if at < len(places):
                place = places[at]
                draw_site(painter, scribe, box, model.sites[place], place, self._look)


def _content(model: LaneModel, cell: str) -> object:
    """Return what a cell shows, to be compared."""
    if cell == "name":
        return (model.number, model.name, model.words, model.priority, model.pinned, model.effort)
    if cell == "rate":
        rate = model.heart_rate
        pointer = None if rate.bpm is None else round(rate.bpm)
        return (rate.text, rate.tone is Tone.FRESH, rate.band, pointer)
    if cell == "clock":
        return (model.clock, model.resting)
    return tuple((s.name, s.text, s.balance, s.rate, s.detail, s.warning) for s in model.sites)
