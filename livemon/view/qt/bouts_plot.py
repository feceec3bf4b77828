"""The one place that knows pyqtgraph: panels with curves that can be zoomed, panned and read.

Curves are made once and given new data; pens are solid, and two pixels wide at most, drawn piece by
piece, which stays fast; gaps are open because each point says whether it is joined to the next.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final, TypeVar

import numpy as np
import pyqtgraph as pg
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPen
from PySide6.QtWidgets import QGraphicsRectItem

from livemon.view.bouts_ticks import Ticks
from livemon.view.identity import Marker, marker
from livemon.view.qt.look import Look
from livemon.view.qt.shapes import curve_colour

_SYMBOLS: Final = {Marker.DISC: "o", Marker.SQUARE: "s", Marker.DIAMOND: "d"}
#: A curve carries about so many markers, each curve's at places of its own.
_MARKERS: Final = 7
_SHIFTS: Final = 7
_DIGITS: Final = 3.4  #: room for the values of the left axis, in sizes of the text
_TICK_ROOM: Final = 5.5  #: a time needs so many sizes of the text
_VALUE_ROOM: Final = 1.5

_Item = TypeVar("_Item")
TickMaker = Callable[[float, float, int], Ticks]


@dataclass(frozen=True, slots=True, eq=False)
class Plotted:
    """One curve as it is to be drawn; `place` below zero is the neutral colour, without markers."""

    place: int
    x: NDArray[np.float64]
    y: NDArray[np.float64]
    joined: NDArray[np.bool_]


class Panel:
    """One pair of axes with curves, end lines and a cross-hair."""

    def __init__(self, x_ticks: TickMaker, y_ticks: TickMaker, *, y_zoom: bool = False) -> None:
        self.item = pg.PlotItem(enableMenu=False)
        self.item.hideButtons()
        self.item.setMouseEnabled(x=True, y=y_zoom)
        self._makers = x_ticks, y_ticks
        self._px = 14
        self._look: Look | None = None
        self._lines: list[tuple[pg.PlotCurveItem, pg.ScatterPlotItem]] = []
        self._uprights: list[pg.InfiniteLine] = []
        self._levels: list[pg.InfiniteLine] = []
        self._bars: list[pg.ErrorBarItem] = []
        # Axes draw the grid, and lie over the curves unless they are sent behind; there the
        # view's own ground would hide them, so the ground is a rectangle behind everything.
        self._ground = QGraphicsRectItem(self.item)
        self._ground.setPen(QPen(Qt.PenStyle.NoPen))
        self._ground.setFlag(QGraphicsRectItem.GraphicsItemFlag.ItemNegativeZStacksBehindParent)
        self._ground.setZValue(-2000)
        for side in ("left", "bottom"):
            self.item.getAxis(side).setZValue(-1000)
        self._cross = self._added(pg.InfiniteLine(angle=90))
        self._cross.setZValue(20)
        self._cross.hide()
        for side in ("left", "bottom"):
            self.item.getAxis(side).enableAutoSIPrefix(False)
        self.item.vb.sigRangeChanged.connect(self._tick)
        self.item.vb.sigResized.connect(self._tick)

    def dress(self, look: Look, px: int, *, left: bool = True, bottom: bool = True) -> None:
        """Take the theme's colours, text of `px` pixels, and show or hide the axes' labels."""
        self._look, self._px = look, px
        theme = look.theme
        font, _ = look.lettering.at(px, bold=False)
        self._ground.setBrush(QColor(theme.card))
        for side, shown in (("left", left), ("bottom", bottom)):
            axis = self.item.getAxis(side)
            axis.setStyle(tickFont=font, tickLength=0, showValues=shown, tickTextOffset=6)
            axis.setTextPen(QColor(theme.dim))
            axis.setTickPen(QColor(theme.rule))
            axis.setPen(QColor(theme.rule))
            axis.setGrid(255)
        self.item.getAxis("left").setWidth(round(px * _DIGITS) if left else 8)
        self.item.getAxis("bottom").setHeight(round(px * 1.9) if bottom else 6)
        self._cross.setPen(_pen(theme.ink))
        self._tick()

    def show_curves(self, curves: Sequence[Plotted]) -> None:
        """Draw these curves and no others."""
        assert self._look is not None
        while len(self._lines) < len(curves):
            line = self._added(pg.PlotCurveItem(antialias=True))
            line.setSegmentedLineMode("on")  # without it a wide smooth line is drawn too slowly
            dots = self._added(pg.ScatterPlotItem(pxMode=True))
            dots.setZValue(10)
            self._lines.append((line, dots))
        for at, (line, dots) in enumerate(self._lines):
            line.setVisible(at < len(curves))
            dots.setVisible(at < len(curves) and curves[at].place >= 0)
            if at < len(curves):
                self._draw(line, dots, curves[at])

    def show_points(self, x: Sequence[float], y: Sequence[float], place: int) -> None:
        """Draw markers without a line between them, as the first curve."""
        nothing = np.zeros(len(x), dtype=np.bool_)
        self.show_curves([Plotted(place, np.asarray(x, float), np.asarray(y, float), nothing)])
        dots = self._lines[0][1]
        dots.setData(x=list(x), y=list(y), size=self._px * 0.75)

    def show_bars(self, bars: Sequence[tuple[float, float, float]]) -> None:
        """Draw intervals as upright bars: x, low, high."""
        assert self._look is not None
        if not self._bars:
            self._bars.append(self._added(pg.ErrorBarItem()))
        x, low, high = (np.array([bar[i] for bar in bars], dtype=np.float64) for i in range(3))
        middle = (low + high) / 2
        self._bars[0].setData(x=x, y=middle, height=high - low, pen=_pen(self._look.theme.scale))

    def show_uprights(self, uprights: Sequence[tuple[float, int | None]]) -> None:
        """Draw dashed upright lines: x and the place of the curve that they belong to."""
        assert self._look is not None
        theme = self._look.theme
        while len(self._uprights) < len(uprights):
            self._uprights.append(self._added(pg.InfiniteLine(angle=90)))
        for at, line in enumerate(self._uprights):
            line.setVisible(at < len(uprights))
            if at < len(uprights):
                x, place = uprights[at]
                colour = theme.scale if place is None else curve_colour(theme, place)
                line.setPen(_pen(colour, Qt.PenStyle.DashLine))
                line.setPos(x)

    def show_levels(self, levels: Sequence[float], style: Qt.PenStyle) -> None:
        """Draw level lines across the panel."""
        assert self._look is not None
        while len(self._levels) < len(levels):
            self._levels.append(self._added(pg.InfiniteLine(angle=0)))
        for at, line in enumerate(self._levels):
            line.setVisible(at < len(levels))
            if at < len(levels):
                line.setPen(_pen(self._look.theme.scale, style))
                line.setPos(levels[at])

    def set_range(self, x: tuple[float, float], y: tuple[float, float]) -> None:
        """Show this stretch; nobody gets lost beyond it."""
        self.item.vb.setLimits(
            xMin=x[0], xMax=x[1], yMin=None, yMax=None, minXRange=(x[1] - x[0]) / 200
        )
        self.item.setRange(xRange=x, yRange=y, padding=0)

    def zoom(self, factor: float, about: float | None) -> None:
        """Show `factor` times as much of the time."""
        low, high = self.item.viewRange()[0]
        middle = (low + high) / 2 if about is None else about
        self.item.setXRange(
            middle + (low - middle) * factor, middle + (high - middle) * factor, padding=0
        )

    def move(self, share: float) -> None:
        """Show what lies this share of the picture further on."""
        low, high = self.item.viewRange()[0]
        self.item.vb.translateBy(x=(high - low) * share)

    @property
    def shown(self) -> tuple[float, float]:
        """The left and the right end of what is seen."""
        low, high = self.item.viewRange()[0]
        return float(low), float(high)

    def show_cross(self, x: float | None) -> None:
        """Draw the cross-hair's upright line here, or nowhere."""
        self._cross.setVisible(x is not None)
        if x is not None:
            self._cross.setPos(x)

    def x_at(self, place: QPointF) -> float | None:
        """Return the axis value under a place on the scene; None outside the panel."""
        if not self.item.vb.sceneBoundingRect().contains(place):
            return None
        return float(self.item.vb.mapSceneToView(place).x())

    def _draw(self, line: pg.PlotCurveItem, dots: pg.ScatterPlotItem, curve: Plotted) -> None:
        assert self._look is not None
        theme = self._look.theme
        colour = QColor(theme.old if curve.place < 0 else curve_colour(theme, curve.place))
        line.setZValue(1 if curve.place < 0 else 2)
        pen = _pen(colour, width=1 if curve.place < 0 else 2)
        line.setData(x=curve.x, y=curve.y, connect=curve.joined.astype(np.int32), pen=pen)
        if curve.place < 0:
            return
        at = _marked(curve)
        dots.setData(
            x=curve.x[at], y=curve.y[at], symbol=_SYMBOLS[marker(curve.place)],
            size=max(7, round(self._px * 0.6)), brush=colour, pen=None,
        )  # fmt: skip

    def _tick(self) -> None:
        self._ground.setRect(self.item.vb.geometry())
        (x_low, x_high), (y_low, y_high) = self.item.viewRange()
        wide, high = self.item.vb.width(), self.item.vb.height()
        x_ticks, y_ticks = self._makers
        across = max(2, int(wide / (self._px * _TICK_ROOM)))
        up = max(2, int(high / (self._px * _VALUE_ROOM)))
        self.item.getAxis("bottom").setTicks([x_ticks(x_low, x_high, across)])
        self.item.getAxis("left").setTicks([y_ticks(y_low, y_high, up)])

    def _added(self, item: _Item) -> _Item:
        self.item.addItem(item, ignoreBounds=True)
        return item


def _marked(curve: Plotted) -> NDArray[np.int64]:
    """Return which points carry a marker, at times of the curve's own so that none hides one."""
    if len(curve.x) == 0:
        return np.zeros(0, dtype=np.int64)
    first, last = float(curve.x[0]), float(curve.x[-1])
    apart = (last - first) / _MARKERS or 1.0
    start = first + apart * (0.15 + (curve.place % _SHIFTS) / _SHIFTS * 0.8)
    wanted = np.arange(start, last, apart)
    return np.unique(np.minimum(np.searchsorted(curve.x, wanted), len(curve.x) - 1))


def _pen(colour: QColor | str, style: Qt.PenStyle = Qt.PenStyle.SolidLine, width: int = 1) -> QPen:
    """Return a pen as wide as this whatever the zoom."""
    pen = QPen(QColor(colour), width, style)
    pen.setCosmetic(True)
    return pen
