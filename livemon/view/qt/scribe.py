"""Write single lines of text into boxes: never clipped, and every one of them on record.

Text that is too wide is first set smaller, and only then cut short with an ellipsis. A number and
a warning are set as small as it takes, and a number is left out before it is cut: half of it would
be another one. What was written where is kept, so a test can look for text that overlaps or leaves
its widget.
"""

from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter

from livemon.view.qt.lettering import LEAST_PX, Lettering

#: Room that a line needs beyond its font size, so that descenders stay inside.
_LINE: Final = 1.28
#: How much smaller a line may get before it is cut short instead.
_SMALLEST_SHARE: Final = 0.62
_ELLIPSIS: Final = "…"
#: Numbers have nothing below the line that they stand on.
_ON_THE_LINE: Final = frozenset("0123456789:.+−–")


@dataclass(frozen=True, slots=True)
class Written:
    """One line that was drawn."""

    text: str  #: what was asked for
    shown: str  #: what was drawn; differs when it was cut short
    rect: QRectF  #: from the top of the capitals to the descenders
    colour: str
    capital_px: float  #: how tall its capitals and digits are


class Scribe:
    """Writes with one painter."""

    def __init__(self, painter: QPainter, lettering: Lettering) -> None:
        self._painter = painter
        self._lettering = lettering
        self.written: list[Written] = []

    def line(
        self,
        text: str,
        box: QRectF,
        colour: str,
        *,
        bold: bool = False,
        align: Qt.AlignmentFlag = Qt.AlignmentFlag.AlignLeft,
        widest: str = "",
    ) -> QRectF:
        """Write words as tall as `box` allows; as if they were `widest`, so sizes keep still."""
        px = box.height() / _LINE
        smallest_px = LEAST_PX if _ON_THE_LINE.issuperset(text) else px * _SMALLEST_SHARE
        return self._put(text, box, px, smallest_px, colour, bold, align, widest)

    def sentence(self, text: str, box: QRectF, colour: str) -> QRectF:
        """Write what must not lose its end: in bold, as tall as all of it allows."""
        left = Qt.AlignmentFlag.AlignLeft
        return self._put(text, box, box.height() / _LINE, LEAST_PX, colour, True, left, "")

    def figure(
        self,
        text: str,
        box: QRectF,
        colour: str,
        *,
        align: Qt.AlignmentFlag = Qt.AlignmentFlag.AlignLeft,
        widest: str = "",
    ) -> QRectF:
        """Write a number in bold whose digits fill the height of `box`, if all of them fit."""
        px = self._lettering.size_for_capitals(box.height(), bold=True)
        return self._put(text, box, px, LEAST_PX, colour, True, align, widest)

    def width(self, text: str, line_height: float, *, bold: bool = False) -> float:
        """Return how wide `text` is in a line of this height, if nothing narrows it."""
        _, metrics = self._lettering.at(line_height / _LINE, bold=bold)
        return metrics.horizontalAdvance(text)

    def _put(
        self,
        text: str,
        box: QRectF,
        px: float,
        smallest_px: float,
        colour: str,
        bold: bool,
        align: Qt.AlignmentFlag,
        widest: str,
    ) -> QRectF:
        if not text or box.width() <= 0 or box.height() <= 0:
            return QRectF(box.topLeft(), box.topLeft())
        font, metrics, shown = self._fitting(text, widest, box.width(), px, smallest_px, bold)
        advance = metrics.horizontalAdvance(shown)
        if align == Qt.AlignmentFlag.AlignRight:
            left = box.right() - advance
        elif align == Qt.AlignmentFlag.AlignHCenter:
            left = box.center().x() - advance / 2
        else:
            left = box.left()
        baseline = box.center().y() + metrics.capHeight() / 2
        self._painter.setFont(font)
        self._painter.setPen(QColor(colour))
        self._painter.drawText(QPointF(left, baseline), shown)
        below = 0.0 if _ON_THE_LINE.issuperset(shown) else metrics.descent()
        rect = QRectF(left, baseline - metrics.capHeight(), advance, metrics.capHeight() + below)
        self.written.append(Written(text, shown, rect, colour, metrics.capHeight()))
        return rect

    def _fitting(
        self, text: str, widest: str, width: float, px: float, smallest_px: float, bold: bool
    ) -> tuple[QFont, QFontMetricsF, str]:
        font, metrics = self._lettering.at(px, bold=bold)
        needed = max(metrics.horizontalAdvance(text), metrics.horizontalAdvance(widest))
        if needed <= width:
            return font, metrics, text
        size = min(px, max(px * width / needed - 0.5, smallest_px, LEAST_PX))
        font, metrics = self._lettering.at(size, bold=bold)
        while metrics.horizontalAdvance(text) > width and size - 1 >= max(smallest_px, LEAST_PX):
            size -= 1  # letters grow by whole pixels, so the share alone may miss
            font, metrics = self._lettering.at(size, bold=bold)
        if metrics.horizontalAdvance(text) <= width:
            return font, metrics, text
        if _ON_THE_LINE.issuperset(text):
            return font, metrics, _ELLIPSIS if metrics.horizontalAdvance(_ELLIPSIS) <= width else ""
        shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, width)
        return font, metrics, shown if shown != _ELLIPSIS else ""
