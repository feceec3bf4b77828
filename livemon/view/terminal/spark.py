"""A curve in one line of text: eight heights, the lowest and highest of the window as its ends."""

from typing import Final

import numpy as np

from livemon.view.model import ChartModel, CurveModel

_HEIGHTS: Final = "▁▂▃▄▅▆▇█"
_NS_PER_S: Final = 1_000_000_000


def spark(curve: CurveModel, chart: ChartModel, values: tuple[float, float], width: int) -> str:
    """Return the last minutes as `width` characters; a space where nothing was measured."""
    t_ns, levels = curve.trail.read()
    begin_ns = (chart.now_s - chart.window_s) * _NS_PER_S
    column = ((t_ns - begin_ns) / (chart.window_s * _NS_PER_S) * width).astype(np.int64)
    known = np.isfinite(levels) & (column >= 0) & (column < width)
    low, high = values
    sums, counts = np.zeros(width), np.zeros(width, dtype=np.int64)
    np.add.at(sums, column[known], levels[known])
    np.add.at(counts, column[known], 1)
    return "".join(
        _height((total / count - low) / (high - low)) if count else " "
        for total, count in zip(sums.tolist(), counts.tolist(), strict=True)
    )


def _height(share: float) -> str:
    return _HEIGHTS[min(max(int(share * len(_HEIGHTS)), 0), len(_HEIGHTS) - 1)]
