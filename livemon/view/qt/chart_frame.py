"""Where the two panes of the strip chart lie, and which pixel a time or a value falls on."""

from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QRectF

#: Beside the past, this share of it is kept for the forecast.
_AHEAD: Final = 0.22
_SMO2_SHARE: Final = 0.68


@dataclass(frozen=True, slots=True)
class ChartFrame:
    """The panes and their time scale."""

    smo2: QRectF
    bpm: QRectF
    now_x: float
    px_per_s: float
    text_px: float  #: height of a line of small text

    def at(self, t_s: float, now_s: float) -> float:
        """Return the x of a time."""
        return self.now_x + (t_s - now_s) * self.px_per_s

    def level(self, pane: QRectF, values: tuple[float, float], value: float) -> float:
        """Return the y of a value in a pane that spans `values`."""
        low, high = values
        return pane.bottom() - (value - low) * pane.height() / (high - low)

    def past(self, pane: QRectF) -> QRectF:
        """Return the part of a pane that lies before now."""
        return QRectF(pane.left(), pane.top(), self.now_x - pane.left(), pane.height())


def chart_frame(width: float, height: float, window_s: float) -> ChartFrame:
    """Divide a chart of this size."""
    text = min(max(height * 0.075, 13.0), 26.0)
    left, right = text * 3.6, width - max(text * 7.5, width * 0.14)
    top, bottom = text * 1.55, height - text * 1.35
    gap = text * 0.5
    smo2_height = (bottom - top - gap) * _SMO2_SHARE
    now_x = left + (right - left) / (1 + _AHEAD)
    return ChartFrame(
        smo2=QRectF(left, top, right - left, smo2_height),
        bpm=QRectF(left, top + smo2_height + gap, right - left, bottom - top - gap - smo2_height),
        now_x=now_x,
        px_per_s=(now_x - left) / window_s,
        text_px=text,
    )
