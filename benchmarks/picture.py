"""Draw a curve of figures as a small SVG: points, a line from zero up, numbers at each point.

It knows nothing of what was measured. The x axis is by place, not by size: what is compared are a
few sizes far apart.
"""

from collections.abc import Sequence
from typing import Final

from benchmarks.figure import Figure, number

_WIDE, _HIGH, _EDGE = 480, 220, 48
#: Readable on white and on black.
_INK: Final = "#777"


def picture(figures: Sequence[Figure], across: str, up: str) -> str:
    """Return the SVG of one curve; `across` and `up` name its axes."""
    most = max(one.value for one in figures)
    step = (_WIDE - 2 * _EDGE) / max(1, len(figures) - 1)
    scale = (_HIGH - 2 * _EDGE) / most
    points = [
        (_EDGE + place * step, _HIGH - _EDGE - one.value * scale, one)
        for place, one in enumerate(figures)
    ]
    line = " ".join(f"{x:.1f},{y:.1f}" for x, y, _ in points)
    marks = [
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3" fill="{_INK}"/>'
        f'<text x="{x:.1f}" y="{y - 9:.1f}">{number(one.value)}</text>'
        f'<text x="{x:.1f}" y="{_HIGH - _EDGE + 18}">{one.at:g}</text>'
        for x, y, one in points
    ]
    base = _HIGH - _EDGE
    return "\n".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDE} {_HIGH}" '
            f'width="{_WIDE}" font-family="sans-serif" font-size="12" text-anchor="middle" '
            f'fill="{_INK}">',
            f"<title>{up} by {across}</title>",
            f'<path d="M{_EDGE} {base}H{_WIDE - _EDGE}" stroke="{_INK}"/>',
            f'<polyline points="{line}" fill="none" stroke="{_INK}" stroke-width="1.5"/>',
            *marks,
            f'<text x="{_EDGE / 2}" y="18" text-anchor="start">{up}</text>',
            f'<text x="{_WIDE / 2}" y="{_HIGH - 8}">{across}</text>',
            "</svg>\n",
        )
    )
