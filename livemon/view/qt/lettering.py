"""Fonts by size and weight, made once and kept, since measuring text costs more than drawing it."""

from typing import Final

from PySide6.QtGui import QFont, QFontMetricsF, QGuiApplication

#: Smaller than this nobody reads at arm's length on a laptop.
LEAST_PX: Final = 9


class Lettering:
    """The fonts of one window."""

    def __init__(self) -> None:
        self._family = QGuiApplication.font().family()
        self._made: dict[tuple[int, bool], tuple[QFont, QFontMetricsF]] = {}

    def at(self, px: float, *, bold: bool) -> tuple[QFont, QFontMetricsF]:
        """Return the font of this size, rounded to whole pixels, and its metrics."""
        key = (max(LEAST_PX, round(px)), bold)
        if key not in self._made:
            font = QFont(self._family)
            font.setPixelSize(key[0])
            font.setWeight(QFont.Weight.Bold if bold else QFont.Weight.Normal)
            self._made[key] = (font, QFontMetricsF(font))
        return self._made[key]

    def size_for_capitals(self, capital_px: float, *, bold: bool) -> float:
        """Return the font size at which a digit is `capital_px` tall."""
        _, metrics = self.at(100, bold=bold)
        return 100 * capital_px / metrics.capHeight()
