"""One bout as a small picture: SmO2 from a minute before to two minutes after, with its trend."""

from collections.abc import Iterator, Mapping
from typing import Final

from livemon.analyse.muscle import MuscleBout
from livemon.analyse.series import Series
from livemon.analyse.session import BoutAnalysis
from livemon.analyse.windows import late_part
from livemon.report import svg
from livemon.report.svg import Scale
from livemon.report.timeline import SITE_LOOKS
from livemon.report.traces import pieces
from livemon.reworded.analysis import analysis_said
from livemon.tongue import said

WIDTH: Final = 172.0
HEIGHT: Final = 92.0
BEFORE_S: Final = 60.0
AFTER_S: Final = 120.0
_LEFT: Final = 20.0
_TOP: Final = 4.0
_BOTTOM: Final = 88.0


def bout_picture(
    found: BoutAnalysis, smo2: Mapping[str, Series], levels: tuple[float, float]
) -> str:
    """Draw one bout on the scale that all bouts of the sheet share."""
    bout = found.bout
    x = Scale(bout.start_s - BEFORE_S, bout.end_s + AFTER_S, _LEFT, WIDTH)
    y = Scale(levels[0], levels[1], _BOTTOM, _TOP)
    work = x(bout.start_s), x(bout.end_s)
    parts = [
        svg.rectangle((work[0], _TOP), work[1] - work[0], _BOTTOM - _TOP, "work"),
        *_levels(levels, y),
    ]
    looks = {site: i % SITE_LOOKS for i, site in enumerate(smo2)}
    for site, series in smo2.items():
        trace = pieces(series, bout.start_s - BEFORE_S, bout.end_s + AFTER_S, x, y)
        parts.append(svg.curve(trace, f"site thin s{looks[site]}"))
    for muscle in found.muscles:
        parts += _trend(muscle, found, x, y, looks[muscle.site])
    words = ", ".join(_said(muscle) for muscle in found.muscles)
    title = said("Bout {number}: {words}", number=bout.number, words=words)
    return svg.picture(WIDTH, HEIGHT, title, parts)


def _said(muscle: MuscleBout) -> str:
    balance = analysis_said(muscle.word.balance.value)
    return said("{site} {balance}", site=muscle.site, balance=balance)


def _levels(levels: tuple[float, float], y: Scale) -> Iterator[str]:
    for value in svg.ticks(*levels, 3):
        yield svg.line((_LEFT, y(value)), (WIDTH, y(value)), "grid")
        yield svg.label((_LEFT - 3, y(value) + 3), f"{value:g}", "tick small", "end")


def _trend(muscle: MuscleBout, found: BoutAnalysis, x: Scale, y: Scale, look: int) -> Iterator[str]:
    """Draw the late trend as a line inside the wedge of its interval."""
    window, fit, slope = late_part(found.bout), muscle.late.fit, muscle.late.slope
    if window is None or fit is None or slope.low is None or slope.high is None:
        return
    middle, level = fit.line.centre, fit.line.level
    ends = (window.start_s, window.end_s)
    low, high = (
        [(x(t), y(level + s / 60 * (t - middle))) for t in ends] for s in (slope.low, slope.high)
    )
    yield svg.area([low[0], high[1], low[1], high[0]], f"wedge w{look}")
    yield svg.line(
        (x(ends[0]), y(fit.line.at(ends[0]))),
        (x(ends[1]), y(fit.line.at(ends[1]))),
        f"trend s{look}",
    )
