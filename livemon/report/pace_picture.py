"""Slope of SmO2 over intensity: each bout with its interval, and where the line crosses zero."""

from collections.abc import Iterator
from typing import Final

from livemon.analyse.numbers import number
from livemon.analyse.pace import Pace
from livemon.analyse.session import SitePace
from livemon.report import svg
from livemon.report.figures import amount
from livemon.report.svg import Scale
from livemon.tongue import marked, said

WIDTH: Final = 340.0
HEIGHT: Final = 186.0
_LEFT: Final = 34.0
_RIGHT: Final = 326.0
_TOP: Final = 16.0
_BOTTOM: Final = 168.0

#: How to read it, to stand below.
HOW_TO_READ: Final = marked(
    "Above the line the muscle refills, below it drains. Where the blue line crosses is the pace"
    " that holds; the blue strip is how sure that is."
)


def pace_picture(pace: Pace, site: str) -> str:
    """Draw a pace that was found; empty when there is none."""
    at = pace.intensity
    if at.value is None or at.low is None or at.high is None:
        return ""
    tested = [p.intensity.value for p in pace.points]
    margin = (max(tested) - min(tested)) * 0.08
    first, last = min(tested) - margin, max(tested) + margin
    limits = [v for p in pace.points for v in (p.slope.low, p.slope.high) if v is not None]
    x = Scale(first, last, _LEFT, _RIGHT)
    y = Scale(min(*limits, -0.5), max(*limits, 0.5), _BOTTOM, _TOP)
    low, high = max(x(at.low), _LEFT), min(x(at.high), _RIGHT)
    parts = [
        svg.rectangle((low, _TOP), high - low, _BOTTOM - _TOP, "holds"),
        *_axes(x, y, at.unit),
        *_line(pace, x, y, (first, last)),
        *_points(pace, x, y),
        svg.dot((x(at.value), y(0)), 4, "crossing"),
    ]
    return svg.picture(WIDTH, HEIGHT, said("Trend of {site} over intensity", site=site), parts)


def pace_title(found: SitePace) -> str:
    """Return what stands above it."""
    where = f"{found.site}, {found.kind}" if found.kind else found.site
    return said("The pace that holds: {where}", where=where)


def _axes(x: Scale, y: Scale, unit: str) -> Iterator[str]:
    low, high = sorted((y.first, y.last))
    for value in svg.ticks(low, high, 4):
        kind = "zero" if value == 0 else "grid"
        yield svg.line((_LEFT, y(value)), (_RIGHT, y(value)), kind)
        text = number(value, 0 if value == round(value) else 1, signed=True)
        yield svg.label((_LEFT - 5, y(value) + 4), text, "tick", "end")
    for value in svg.ticks(x.first, x.last, 5):
        yield svg.label((x(value), _BOTTOM + 14), amount(value, unit), "tick", "middle")
    yield svg.label((_RIGHT, _TOP - 5), said("SmO₂ trend, %/min"), "tick", "end")


def _line(pace: Pace, x: Scale, y: Scale, ends: tuple[float, float]) -> Iterator[str]:
    crossing, slope = pace.intensity.value, pace.dependence.value
    if crossing is None or slope is None:
        return
    top, bottom = y.last, y.first
    # Keep the line inside the picture: cut it where it leaves.
    inside = sorted((crossing + top / slope, crossing + bottom / slope))
    first, last = max(ends[0], inside[0]), min(ends[1], inside[1])
    a, b = ((x(v), y(slope * (v - crossing))) for v in (first, last))
    yield svg.line(a, b, "fit")


def _points(pace: Pace, x: Scale, y: Scale) -> Iterator[str]:
    for point in pace.points:
        slope = point.slope
        if slope.value is None or slope.low is None or slope.high is None:
            continue
        across = x(point.intensity.value)
        yield svg.line((across, y(slope.low)), (across, y(slope.high)), "bar")
        yield svg.dot((across, y(slope.value)), 3.5, "point")
        yield svg.label((across + 7, y(slope.value) - 5), str(point.bout), "number")
