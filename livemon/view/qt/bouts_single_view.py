"""Small multiples: one picture for each bout, all on one scale, the others faint behind it."""

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QScrollArea

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
        self.setAccessibleName("Each bout by itself")
        self.canvas = Canvas("Each bout by itself")
        self.setWidget(self.canvas.view)
        self._cells: list[tuple[Strip, Panel]] = []

    def show_overlay(self, overlay: Overlay, look: Look, px: int) -> None:
        """Show every bout of the overlay by itself."""
        self.canvas.dress(look)
        panes = overlay.panes[:-1] or overlay.panes
        places = sorted({c.place for pane in panes for c in pane.curves})
        wanted = [(row, column, pane, place) for row, pane in enumerate(panes)
                  for column, place in enumerate(places)]  # fmt: skip
        while len(self._cells) < len(wanted):
            self._cells.append((Strip(), Panel(time_ticks, value_ticks)))
        items = []
        for (strip, panel), (row, column, pane, place) in zip(self._cells, wanted, strict=False):
            items += [(strip, 2 * row, column), (panel.item, 2 * row + 1, column)]
            strip.show_text(*_heading(pane, place, first=column == 0, top=row == 0), look, px)
            panel.dress(look, px, left=column == 0, bottom=row == len(panes) - 1)
            panel.show_curves([*_behind(pane, place), *_own(pane, place)])
            ended = [(end_s, None) for at, end_s in overlay.ends_s if at == place]
            panel.show_uprights([(0.0, None), *ended])
            panel.set_range((overlay.begin_s, overlay.end_s), (pane.low, pane.high))
        self.canvas.arrange(items, (0, 1) * len(panes))
        self.canvas.view.setMinimumSize(
            round(px * _LEAST_WIDTH * len(places)), round(px * _LEAST_HEIGHT * len(panes))
        )
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)


def _heading(pane: Pane, place: int, *, first: bool, top: bool) -> tuple[str, tuple[KeyEntry, ...]]:
    """The first column says what the row shows, the top row which bout the column is."""
    labels = [c.label for c in pane.curves if c.place == place]
    key = tuple(KeyEntry(place, label) for label in labels) if top else ()
    return (pane.title if first and not top else ""), key


def _own(pane: Pane, place: int) -> list[Plotted]:
    return [_plotted(c, c.place) for c in pane.curves if c.place == place]


def _behind(pane: Pane, place: int) -> list[Plotted]:
    return [_plotted(c, -1) for c in pane.curves if c.place != place]


def _plotted(curve: OverlayCurve, place: int) -> Plotted:
    return Plotted(place, curve.trace.t_s, curve.trace.values, curve.trace.joined)
