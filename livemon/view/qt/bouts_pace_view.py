"""The pace that holds: slopes over intensity, where their line crosses zero, and the words."""

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QVBoxLayout, QWidget

from livemon.tongue import said
from livemon.view.bouts_findings import PaceModel, Paragraph
from livemon.view.bouts_ticks import value_ticks
from livemon.view.bouts_trace import round_range
from livemon.view.qt.bouts_canvas import Canvas
from livemon.view.qt.bouts_plot import Panel
from livemon.view.qt.bouts_strip import Strip
from livemon.view.qt.bouts_text import FindingsText
from livemon.view.qt.kit_parts import KitChoice
from livemon.view.qt.look import Look

_AIR: Final = 0.15  #: beyond the easiest and the hardest bout, of their distance
_LEAST_SLOPES: Final = 4.0


class PaceView(QWidget):
    """Words at the left, the picture at the right where there is one."""

    def __init__(self) -> None:
        super().__init__()
        self.choice: QComboBox = KitChoice(said("Site and kind of work"), typed=False)
        self.text = FindingsText(said("Pace that holds"))
        self.canvas = Canvas(said("Slope of SmO2 over intensity"))
        self._strip, self._panel = Strip(), Panel(value_ticks, value_ticks)
        self.canvas.arrange(((self._strip, 0, 0), (self._panel.item, 1, 0)), (0, 1))
        left = QVBoxLayout()
        left.addWidget(self.choice)
        left.addWidget(self.text)
        inside = QHBoxLayout(self)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(16)
        inside.addLayout(left, 3)
        inside.addWidget(self.canvas.view, 2)
        self._paces: tuple[PaceModel, ...] = ()
        self._look: Look | None = None
        self._px = 14
        self.choice.currentIndexChanged.connect(self._choose)

    def show_paces(
        self, paces: tuple[PaceModel, ...], without: tuple[Paragraph, ...], look: Look, px: int
    ) -> None:
        """Show these; `without` are the words when there are none."""
        self._paces, self._look, self._px = paces, look, px
        self.choice.setVisible(len(paces) > 1)
        self.canvas.dress(look)
        names = [pace.name for pace in paces]
        if names != [self.choice.itemText(i) for i in range(self.choice.count())]:
            self.choice.blockSignals(True)
            self.choice.clear()
            self.choice.addItems(names)
            self.choice.blockSignals(False)
        if not paces:
            self.text.show_paragraphs(without, look, px)
            self.canvas.view.hide()
            return
        self._choose(max(self.choice.currentIndex(), 0))

    def _choose(self, at: int) -> None:
        if self._look is None or not 0 <= at < len(self._paces):
            return
        pace = self._paces[at]
        self.text.show_paragraphs(pace.words, self._look, self._px)
        self.canvas.view.setVisible(bool(pace.dots))
        if pace.dots:
            self._draw(pace, self._look)

    def _draw(self, pace: PaceModel, look: Look) -> None:
        title = said("Slope of SmO₂, %/min, over intensity")
        if pace.unit:
            title = said("Slope of SmO₂, %/min, over intensity, {unit}", unit=pace.unit)
        self._strip.show_text(title, (), look, self._px)
        panel = self._panel
        panel.dress(look, self._px)
        dots = [(d.intensity, d.slope.value) for d in pace.dots if d.slope.value is not None]
        bars = [
            (d.intensity, d.slope.low, d.slope.high)
            for d in pace.dots
            if d.slope.low is not None and d.slope.high is not None
        ]
        x = [at for at, _ in dots]
        panel.show_points(x, [slope for _, slope in dots], 0)
        panel.show_bars(bars)
        panel.show_levels((0.0,), Qt.PenStyle.SolidLine)
        holds = pace.holds
        limits = [v for v in (holds.low, holds.value, holds.high) if v is not None]
        panel.show_uprights([(v, None) for v in limits])
        ends = [*x, *limits]
        air = (max(ends) - min(ends)) * _AIR or max(abs(max(ends)) * _AIR, 1.0)
        heights = [slope for _, slope in dots] + [v for bar in bars for v in bar[1:]] + [0.0]
        panel.set_range(
            (min(ends) - air, max(ends) + air),
            round_range(heights, 1.0, _LEAST_SLOPES) or (-2.0, 2.0),
        )
