"""The picked bouts over one another: zoomed by wheel or keys, read by pointer or arrows."""

from typing import Final

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from livemon.tongue import said
from livemon.view.bouts_model import MOST_SITES
from livemon.view.bouts_overlay import Overlay
from livemon.view.bouts_ticks import time_ticks, value_ticks
from livemon.view.qt.bouts_canvas import Canvas
from livemon.view.qt.bouts_plot import Panel, Plotted
from livemon.view.qt.bouts_strip import KeyEntry, Strip
from livemon.view.qt.look import Look

_STEP_S: Final = 5.0  #: of the arrow keys
_CLOSER: Final = 1 / 1.4


class OverlayView(QWidget):
    """Shows an Overlay; tells where the cross-hair stands."""

    pointed = Signal(object)  #: seconds from the start, or None

    def __init__(self) -> None:
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(said("Bouts over one another"))
        self.canvas = Canvas(said("Bouts over one another"))
        self.panels = [Panel(time_ticks, value_ticks) for _ in range(MOST_SITES + 1)]
        self.strips = [Strip() for _ in self.panels]
        for panel in self.panels:
            panel.item.vb.sigXRangeChanged.connect(self._together)
        inside = QVBoxLayout(self)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.addWidget(self.canvas.view)
        self.canvas.when_pointed(self._point)
        self._overlay: Overlay | None = None
        self._seen: tuple[float, float] | None = None
        self._at_s: float | None = None

    def show_overlay(self, overlay: Overlay, look: Look, px: int) -> None:
        """Show this; the zoom stays while the bouts' length does."""
        self._overlay = overlay
        self.canvas.dress(look)
        count = len(overlay.panes)
        items = [
            placed
            for i in range(count)
            for placed in ((self.strips[i], 2 * i, 0), (self.panels[i].item, 2 * i + 1, 0))
        ]
        shares = [share for _ in range(count - 1) for share in (0, 3)]
        self.canvas.arrange(items, (*shares, 0, 2))
        places = {c.place: c.label for pane in overlay.panes for c in pane.curves}
        key = tuple(KeyEntry(place, label) for place, label in sorted(places.items()))
        ends = [(0.0, None), *((end_s, place) for place, end_s in overlay.ends_s)]
        across = overlay.begin_s, overlay.end_s
        for i, pane in enumerate(overlay.panes):
            panel = self.panels[i]
            self.strips[i].show_text(pane.title, key if i == 0 else (), look, px)
            panel.dress(look, px, bottom=i == count - 1)
            panel.show_curves(
                [Plotted(c.place, c.trace.t_s, c.trace.values, c.trace.joined)
                 for c in pane.curves]
            )  # fmt: skip
            panel.show_uprights(ends)
            seen = panel.shown
            panel.set_range(across, (pane.low, pane.high))
            if across == self._seen:
                panel.item.setXRange(*seen, padding=0)
        self._seen = across
        self._cross(self._at_s)

    def whole(self) -> None:
        """Show all of the bouts again."""
        if self._overlay is not None:
            self.panels[0].item.setXRange(self._overlay.begin_s, self._overlay.end_s, padding=0)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Arrows move the cross-hair, with Shift the picture; plus and minus zoom, 0 shows all."""
        key, shifted = event.key(), bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        turn = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(key), 0)
        if turn and shifted:
            self.panels[0].move(0.1 * turn)
        elif turn:
            self._step(turn)
        elif key in {Qt.Key.Key_Plus, Qt.Key.Key_Equal}:
            self.panels[0].zoom(_CLOSER, self._at_s)
        elif key == Qt.Key.Key_Minus:
            self.panels[0].zoom(1 / _CLOSER, self._at_s)
        elif key == Qt.Key.Key_0:
            self.whole()
        else:
            super().keyPressEvent(event)

    def _step(self, turn: int) -> None:
        if self._overlay is None:
            return
        at_s = 0.0 if self._at_s is None else self._at_s + turn * _STEP_S
        self._cross(min(max(at_s, self._overlay.begin_s), self._overlay.end_s))

    def _point(self, place: QPointF) -> None:
        found = [panel.x_at(place) for panel in self.panels if panel.item.scene() is not None]
        self._cross(next((x for x in found if x is not None), None))

    def _together(self, _: object, across: tuple[float, float]) -> None:
        """Let all panes show the same time; pyqtgraph's own link shifts panes not yet laid out."""
        for panel in self.panels:
            if panel.shown != tuple(across):
                panel.item.setXRange(*across, padding=0)

    def _cross(self, at_s: float | None) -> None:
        self._at_s = at_s
        for panel in self.panels:
            panel.show_cross(at_s)
        self.pointed.emit(at_s)
