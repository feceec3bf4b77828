"""A quantity over the months: choices above, the picture, and every figure as a table."""

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from livemon.tongue import said
from livemon.view.bouts_history import QUANTITIES, HistoryModel, history_model, kinds_of
from livemon.view.bouts_numbers import Cell
from livemon.view.bouts_source import BoutsSession, sites_of
from livemon.view.bouts_ticks import day_ticks, value_ticks
from livemon.view.bouts_trace import round_range
from livemon.view.qt.bouts_canvas import Canvas
from livemon.view.qt.bouts_plot import Panel
from livemon.view.qt.bouts_strip import Strip
from livemon.view.qt.bouts_table import BoutsTable, TableRow
from livemon.view.qt.kit_parts import KitChoice, Words
from livemon.view.qt.look import Look
from livemon.view.words import sentence_case

_DAY_S: Final = 86_400.0
_AIR: Final = 0.08


class HistoryView(QWidget):
    """Shows what the recordings say about one quantity, site and kind of work."""

    def __init__(self) -> None:
        super().__init__()
        self.quantity = KitChoice(said("Quantity"), typed=False)
        self.site = KitChoice(said("Muscle site"), typed=False)
        self.kind = KitChoice(said("Kind of work"), typed=False)
        self.quantity.offer(tuple(sentence_case(said(q.name)) for q in QUANTITIES))
        self.note: QLabel = Words("dim")
        self.table = BoutsTable(said("History"))
        self.canvas = Canvas(said("History"))
        self._strip, self._panel = Strip(), Panel(day_ticks, value_ticks)
        self.canvas.arrange(((self._strip, 0, 0), (self._panel.item, 1, 0)), (0, 1))
        choices = QHBoxLayout()
        for choice in (self.quantity, self.site, self.kind):
            choices.addWidget(choice)
            choice.currentIndexChanged.connect(self._show)
        left = QVBoxLayout()
        left.addLayout(choices)
        left.addWidget(self.table, 1)
        left.addWidget(self.note)
        inside = QHBoxLayout(self)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(16)
        inside.addLayout(left, 1)
        inside.addWidget(self.canvas.view, 1)
        self._sessions: tuple[BoutsSession, ...] = ()
        self._look: Look | None = None
        self._px = 14

    def show_sessions(self, sessions: Sequence[BoutsSession], look: Look, px: int) -> None:
        """Show the history of these recordings."""
        self._sessions, self._look, self._px = tuple(sessions), look, px
        self.site.offer(sites_of(sessions))
        self.kind.offer(tuple(kind or said("work") for kind in kinds_of(sessions)))
        self._show()

    def model(self) -> HistoryModel:
        """Return what the choices ask for."""
        followed = QUANTITIES[max(self.quantity.currentIndex(), 0)]
        known, at = kinds_of(self._sessions), self.kind.currentIndex()
        kind = known[at] if 0 <= at < len(known) else ""
        return history_model(self._sessions, followed, self.site.currentText(), kind)

    def _show(self) -> None:
        if self._look is None:
            return
        model, look, px = self.model(), self._look, self._px
        self.canvas.dress(look)
        self.note.setText(model.note)
        self.note.show()
        rows = [
            TableRow((Cell(d.day or said("day not known")), Cell(d.bout), d.shown, Cell(d.change)))
            for d in model.dots
        ]
        columns = (said("When"), said("Bout"), said("Figure"), said("Against the first"))
        self.table.show_table(columns, (None,) * len(columns), rows, look, px)
        self._draw(model, look)

    def _draw(self, model: HistoryModel, look: Look) -> None:
        panel = self._panel
        self._strip.show_text(model.title, (), look, self._px)
        panel.dress(look, self._px)
        dots = [
            (d.at_s, d.figure)
            for d in model.dots
            if d.at_s is not None and d.figure.value is not None
        ]
        self.canvas.view.setVisible(bool(dots))
        if not dots:
            return
        x = [at_s for at_s, _ in dots]
        values = [figure.value for _, figure in dots if figure.value is not None]
        panel.show_points(x, values, 0)
        bars = [
            (at_s, figure.low, figure.high)
            for at_s, figure in dots
            if figure.low is not None and figure.high is not None
        ]
        panel.show_bars(bars)
        panel.show_levels(model.band or (), Qt.PenStyle.DotLine)
        air = max((max(x) - min(x)) * _AIR, _DAY_S)
        heights = [*values, *(v for bar in bars for v in bar[1:]), *(model.band or ())]
        panel.set_range((min(x) - air, max(x) + air), round_range(heights, 2.0, 4.0) or (0.0, 1.0))
