"""Draw a thinned-out curve quickly: straight from numpy, one pixel wide, twice.

A pen of one pixel is on Qt's fast path even when antialiased; a wider one is not, by a factor of
ten and more. Two passes one pixel apart look like a line of two pixels.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF
from shiboken6 import VoidPtr

from livemon.series.ring import Trail
from livemon.view.decimate import pieces

_NS_PER_S: Final = 1_000_000_000
_BYTES_PER_POINT: Final = 16


def draw_curve(
    painter: QPainter,
    box: QRectF,
    trail: Trail,
    colour: str,
    *,
    times_s: tuple[float, float],
    values: tuple[float, float],
) -> None:
    """Draw `trail` into `box`, which spans these times and these values."""
    begin_ns, end_ns = (int(t * _NS_PER_S) for t in times_s)
    t_ns, y = trail.read()
    low, high = values
    painter.setPen(QPen(QColor(colour), 1))
    for x, level in pieces(t_ns, y, begin_ns=begin_ns, end_ns=end_ns, columns=int(box.width())):
        line = polyline(
            box.left() + x, box.bottom() - (level - low) * (box.height() / (high - low))
        )
        painter.drawPolyline(line)
        painter.drawPolyline(line.translated(0.0, 1.0))


def polyline(x: NDArray[np.float64], y: NDArray[np.float64]) -> QPolygonF:
    """Return the points as Qt wants them, without a Python object for each."""
    line = QPolygonF()
    line.resize(x.size)
    memory = VoidPtr(line.data(), x.size * _BYTES_PER_POINT, True)  # type: ignore[call-arg,arg-type] # its stub lacks this form
    points = np.frombuffer(memory, dtype=np.float64).reshape(-1, 2)  # type: ignore[call-overload] # a VoidPtr is a buffer
    points[:, 0], points[:, 1] = x, y
    return line
