"""Where the lanes lie, and what has room inside one. Pure arithmetic on pixels."""

from dataclasses import dataclass
from math import ceil, floor
from typing import Final

from livemon.view.layout import Box

#: More lanes than this stand in two columns: lower ones couldn't be read.
_ONE_COLUMN: Final = 12
#: What a lane holds is drawn no taller than this share of its width, so that all of it fits.
_TALLEST_BY_WIDTH: Final = 1 / 11
#: But no less than its lines of the smallest text need, or they would lie over one another.
_LEAST_PX: Final = 52.0
_HEADER: Final = 0.075
#: A lane of a small group need not fill the screen; beyond this it only looks coarse.
_TALLEST: Final = 0.225
#: A site's number and tilt need this much width by the lane's height; more looks lost.
_SITE_ASPECT: Final = 1.9
_SITE_WIDEST: Final = 3.3
#: Where there is more room, the sites have this share of what number and name leave over.
_SITES_SHARE: Final = 0.66
_CHART_LEAST_PX: Final = 60.0
#: The bar of a selected lane stands here.
_EDGE_PX: Final = 13.0


@dataclass(frozen=True, slots=True)
class LanesLayout:
    """The parts of the page."""

    header: Box
    lanes: tuple[Box, ...]


@dataclass(frozen=True, slots=True)
class LaneLayout:
    """The parts of one lane, measured from its own corner."""

    name: Box
    heart_rate: Box
    sites: tuple[Box, ...]
    chart: Box | None  #: None where there is no room
    clock: Box


def lanes_layout(width: float, height: float, lanes: int) -> LanesLayout:
    """Place all lanes, the first at the top left, down the first column and then the second."""
    gap = max(4.0, height / 150)
    margin = 2.5 * gap
    header = Box(margin, gap, width - 2 * margin, _HEADER * height - gap)
    top = header.bottom + gap
    columns = 1 if lanes <= _ONE_COLUMN else 2
    rows = max(1, ceil(lanes / columns))
    inner = width - 2 * margin
    lane_width = floor((inner - 2 * gap * (columns - 1)) / columns)
    room = height - top - gap
    lane_height = floor(min((room - gap * (rows - 1)) / rows, _TALLEST * height))
    return LanesLayout(
        header,
        tuple(
            Box(
                round(margin + (i // rows) * (lane_width + 2 * gap)),
                round(top + (i % rows) * (lane_height + gap)),
                lane_width,
                lane_height,
            )
            for i in range(lanes)
        ),
    )


def lane_layout(width: float, height: float, sites: int) -> LaneLayout:
    """Divide one lane: what must be read gets its width first, the chart what is left."""
    unit = min(height, max(width * _TALLEST_BY_WIDTH, _LEAST_PX))
    pad = unit * 0.12
    inner_height = unit - 2 * pad
    top = (height - inner_height) / 2
    name_width = min(max(width * 0.20, 2.2 * unit), 0.28 * width)
    rate_width = min(unit * 2.3, width * 0.2)
    clock_width = min(unit * 1.15, width * 0.075)
    left = max(1.4 * pad, _EDGE_PX)
    name = Box(left, top, name_width - left, inner_height)
    rate = Box(name_width + pad, top, rate_width - pad, inner_height)
    clock = Box(width - clock_width - 1.4 * pad, top, clock_width, inner_height)
    sites_left = rate.right + 2 * pad
    room = clock.x - pad - sites_left
    site_width, fitting = _sites_in(room, unit, sites)
    chart_left = sites_left + fitting * site_width + pad
    chart = None
    if clock.x - pad - chart_left >= _CHART_LEAST_PX:
        chart = Box(chart_left, top, clock.x - pad - chart_left, inner_height)
    return LaneLayout(
        name=name,
        heart_rate=rate,
        sites=tuple(
            Box(sites_left + i * site_width, top, site_width - pad, inner_height)
            for i in range(fitting)
        ),
        chart=chart,
        clock=clock,
    )


def _sites_in(room: float, height: float, sites: int) -> tuple[float, int]:
    """Return the width of a site and how many of them there is room for."""
    if sites == 0:
        return 0.0, 0
    least = min(_SITE_ASPECT * height, room / min(sites, 2))
    fitting = max(1, min(sites, int(room / least)))
    wanted = min(room * _SITES_SHARE / fitting, _SITE_WIDEST * height)
    return max(least, wanted), fitting
