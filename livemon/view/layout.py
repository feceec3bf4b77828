"""Where the parts of the Pace page lie. Pure arithmetic on pixels, so that it can be tested.

Big numbers come first: the upper part takes what height it can, the strip chart takes what is
left, and with many sites the cards stand in two columns.
"""

from dataclasses import dataclass
from math import ceil
from typing import Final

#: Share of the height, from top to bottom; what remains is the strip chart's.
_HEADER: Final = 0.085
_NUMBERS: Final = 0.44
_WATCH: Final = 0.08
#: One line, where something measures how hard the work is; the strip chart gives it its room.
_EFFORT: Final = 0.06
#: With more sites the numbers need more of the page.
_NUMBERS_MANY: Final = 0.55
_ONE_COLUMN: Final = 3
_HEART_RATE_WIDTH: Final = 0.37
_HEART_RATE_WIDTH_MANY: Final = 0.28


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in pixels."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Its right edge."""
        return self.x + self.width

    @property
    def bottom(self) -> float:
        """Its lower edge."""
        return self.y + self.height


@dataclass(frozen=True, slots=True)
class PaceLayout:
    """The parts of the page."""

    header: Box
    heart_rate: Box
    sites: tuple[Box, ...]
    effort: Box | None
    watch: Box
    chart: Box


def pace_layout(width: float, height: float, sites: int, *, effort: bool = False) -> PaceLayout:
    """Place everything on a page of this size; `effort` asks for its line."""
    gap = max(6.0, min(width, height * 1.6) / 90)
    left, inner = 2 * gap, width - 4 * gap
    many = sites > 2 * _ONE_COLUMN
    numbers = (_NUMBERS_MANY if many else _NUMBERS) * height
    header = Box(left, 0.6 * gap, inner, _HEADER * height - 0.6 * gap)
    top = header.bottom + gap
    share = _HEART_RATE_WIDTH if sites <= _ONE_COLUMN else _HEART_RATE_WIDTH_MANY
    heart_rate = Box(left, top, share * inner, numbers)
    cards_left = heart_rate.right + 1.5 * gap
    cards = Box(cards_left, top, left + inner - cards_left, numbers)
    below = cards.bottom + gap
    line = Box(left, below, inner, _EFFORT * height) if effort else None
    watch = Box(left, below if line is None else line.bottom + gap, inner, _WATCH * height)
    chart_top = watch.bottom + gap
    chart = Box(left, chart_top, inner, height - chart_top - gap)
    return PaceLayout(header, heart_rate, _cards(cards, sites, gap), line, watch, chart)


def _cards(area: Box, count: int, gap: float) -> tuple[Box, ...]:
    """Return one box a site, in reading order."""
    if count == 0:
        return ()
    columns = 1 if count <= _ONE_COLUMN else 2
    rows = ceil(count / columns)
    width = (area.width - gap * (columns - 1)) / columns
    height = (area.height - gap * (rows - 1)) / rows
    return tuple(
        Box(
            area.x + (i // rows) * (width + gap),
            area.y + (i % rows) * (height + gap),
            width,
            height,
        )
        for i in range(count)
    )
