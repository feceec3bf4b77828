"""A picture made of strips and panels, and its way into a file.

Written by Qt's own generator and not by pyqtgraph's exporters: it draws whatever is in the picture,
keeps text as text, and what is saved is what was seen.
"""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Final

import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtSvg import QSvgGenerator
from PySide6.QtWidgets import QFrame, QGraphicsWidget

from livemon.errors import UsageError
from livemon.tongue import said
from livemon.view.qt.look import Look

#: Sharp on paper and on screens with small pixels.
_PNG_SCALE: Final = 2
_DPI: Final = 96  #: what one pixel of a style sheet means


class Canvas:
    """Holds what is drawn; `view` is the widget."""

    def __init__(self, name: str) -> None:
        self.view = pg.GraphicsLayoutWidget()
        self.view.setFrameShape(QFrame.Shape.NoFrame)
        self.view.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.view.viewport().setFocusPolicy(Qt.FocusPolicy.NoFocus)  # keys are its owner's
        self.view.setAccessibleName(name)
        self.view.ci.setSpacing(0)
        self.view.ci.setContentsMargins(0, 0, 8, 0)
        self.view.ci.geometryChanged.connect(self._fill)
        self._ground = "#000000"
        self._arranged: tuple[tuple[QGraphicsWidget, int, int, int], ...] = ()

    def dress(self, look: Look) -> None:
        """Take the theme's ground."""
        self._ground = look.theme.ground
        self.view.setBackground(QColor(self._ground))

    def arrange(
        self, items: Sequence[tuple[QGraphicsWidget, int, int]], stretch: Sequence[int]
    ) -> None:
        """Put items at (row, column); rows share the height by `stretch`."""
        wanted = tuple((item, row, column, stretch[row]) for item, row, column in items)
        if wanted == self._arranged:
            return
        self._arranged = wanted
        self.view.ci.clear()
        grid = self.view.ci.layout
        for row in range(grid.rowCount()):
            grid.setRowStretchFactor(row, 0)
        for item, row, column in items:
            self.view.ci.addItem(item, row, column)
        for row, share in enumerate(stretch):
            grid.setRowStretchFactor(row, share)

    def when_pointed(self, told: Callable[[QPointF], None]) -> None:
        """Call `told` with the place on the scene whenever the pointer moves over the picture."""
        self.view.scene().sigMouseMoved.connect(told)

    def save(self, path: Path, title: str) -> None:
        """Write the picture as it is seen, as SVG or PNG by the name of the file.

        Raises:
            UsageError: the name ends in neither, or the file can't be written.
        """
        if path.suffix.lower() not in {".png", ".svg"}:
            raise UsageError(said("{file}: a picture's name ends in .png or .svg", file=path.name))
        written = self._svg(path, title) if path.suffix.lower() == ".svg" else self._png(path)
        if not written:
            raise UsageError(said("{file} can't be written", file=path))

    def _fill(self) -> None:
        """Fill the view again: a layout whose items were changed shrinks to what it needs."""
        if self.view.ci.geometry() != self.view.range:
            self.view.ci.setGeometry(self.view.range)

    def _png(self, path: Path) -> bool:
        image = QImage(self.view.size() * _PNG_SCALE, QImage.Format.Format_RGB32)
        image.setDevicePixelRatio(_PNG_SCALE)
        self._paint(QPainter(image))
        return image.save(str(path))

    def _svg(self, path: Path, title: str) -> bool:
        made = QSvgGenerator()
        made.setFileName(str(path))
        made.setResolution(_DPI)
        made.setSize(self.view.size())
        made.setViewBox(QRect(0, 0, self.view.width(), self.view.height()))
        made.setTitle(title)
        painter = QPainter()
        if not painter.begin(made):
            return False
        self._paint(painter)
        return path.exists()

    def _paint(self, painter: QPainter) -> None:
        size: QSize = self.view.size()
        room = QRectF(0, 0, size.width(), size.height())
        painter.fillRect(room, QColor(self._ground))
        self.view.render(painter, room, self.view.rect())
        painter.end()
