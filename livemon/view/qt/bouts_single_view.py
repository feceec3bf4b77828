"""Small multiples: one picture for each bout, all on one scale, the others faint behind it."""

from typing import Final

from PySide6.QtWidgets import QGraphicsWidget, QScrollArea

from livemon.tongue import said
from livemon.view.bouts_model import MOST_SITES
from livemon.view.bouts_overlay import Overlay, OverlayCurve, Pane
from livemon.view.bouts_ticks import time_ticks, value_ticks
from livemon.view.qt.bouts_canvas import Canvas
from livemon.view.qt.bouts_plot import Panel, Plotted
from livemon.view.qt.bouts_strip import KeyEntry, Strip
from livemon.view.qt.look import Look

_LEAST_WIDTH: Final = 12  #: of one picture, in sizes of the text
_LEAST_HEIGHT: Final = 7


class SingleView(QScrollArea):
    """A row for each muscle site, a column for each bout."""

    def __init__(self) -> None:
        super().__init__()
        self.setWidgetResizable(True)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setAccessibleName(said("Each bout by itself"))
        self.canvas = Canvas(said("Each bout by itself"))
        self.setWidget(self.canvas.view)
        self._look: Look | None = None
        self._px = 14
        self._titles = [Strip() for _ in range(MOST_SITES + 1)]
        self._names: list[Strip] = []
        self._cells: list[Panel] = []

    def show_overlay(self, overlay: Overlay, look: Look, px: int) -> None:
        """Show every bout of the overlay by itself."""
        self.canvas.dress(look)
        panes = overlay.panes[:-1] or overlay.panes
        self._look, self._px = look, px
        labels = dict(sorted((c.place, c.label) for pane in panes for c in pane.curves))
        items = self._keys(labels)
        cells = iter(self._cells_for(len(panes) * len(labels)))
        for row, pane in enumerate(panes):
            self._titles[row].show_text(pane.title, (), look, px)
            items.append((self._titles[row], 1 + 2 * row, 0))
            for column, place in enumerate(labels):
                panel = next(cells)
                panel.dress(look, px, left=column == 0, bottom=row == len(panes) - 1)
                panel.show_curves([*_behind(pane, place), *_own(pane, place)])
                ended = [(end_s, None) for at, end_s in overlay.ends_s if at == place]
                panel.show_uprights([(0.0, None), *ended])
                panel.set_range((overlay.begin_s, overlay.end_s), (pane.low, pane.high))
                items.append((panel.item, 2 + 2 * row, column))
        self.canvas.arrange(items, (0, *((0, 1) * len(panes))))
        self.canvas.view.setMinimumSize(
            round(px * _LEAST_WIDTH * len(labels)), round(px * _LEAST_HEIGHT * len(panes))
        )

    def _keys(self, labels: dict[int, str]) -> list[tuple[QGraphicsWidget, int, int]]:
        """Name the columns."""
        assert self._look is not None
        while len(self._names) < len(labels):
            self._names.append(Strip())
        for strip, (place, label) in zip(self._names, labels.items(), strict=False):
            strip.show_text("", (KeyEntry(place, label),), self._look, self._px)
        return [(strip, 0, at) for at, strip in enumerate(self._names[: len(labels)])]

    def _cells_for(self, count: int) -> list[Panel]:
        while len(self._cells) < count:
            self._cells.append(Panel(time_ticks, value_ticks))
        return self._cells[:count]


def _own(pane: Pane, place: int) -> list[Plotted]:
    return [_plotted(c, c.place) for c in pane.curves if c.place == place]


def _behind(pane: Pane, place: int) -> list[Plotted]:
    return [_plotted(c, -1) for c in pane.curves if c.place != place]


def _plotted(curve: OverlayCurve, place: int) -> Plotted:
    return Plotted(place, curve.trace.t_s, curve.trace.values, curve.trace.joined)
