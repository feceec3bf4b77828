"""The whole session as one picture: bouts above, heart rate, SmO2 of every site."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from livemon.analyse.session import AthleteRecord
from livemon.report import svg
from livemon.report.figures import clock
from livemon.report.svg import Scale
from livemon.report.traces import extent, pieces
from livemon.tongue import said

WIDTH: Final = 720.0
_LEFT: Final = 34.0
_RIGHT: Final = 716.0
_BOUTS_Y: Final = 14.0
_HEART: Final = (30.0, 74.0)
_MUSCLE: Final = (86.0, 180.0)
_TIME_Y: Final = 195.0
HEIGHT: Final = 200.0
_RESTING: Final = "(resting)"  #: how the names of such sites end
SITE_LOOKS: Final = 4  #: the style sheet has so many line looks; more sites share them


@dataclass(frozen=True, slots=True)
class Span:
    """The stretch of time a session picture shows."""

    start_s: float
    end_s: float


def session_span(record: AthleteRecord) -> Span | None:
    """Return the stretch from the first to the last sample or bout."""
    series = [s for s in (record.heart_rate, *record.smo2.values()) if len(s)]
    starts = [float(s.t_s[0]) for s in series] + [b.start_s for b in record.bouts]
    ends = [float(s.t_s[-1]) for s in series] + [b.end_s for b in record.bouts]
    if not starts or max(ends) <= min(starts):
        return None
    return Span(min(starts), max(ends))


def session_picture(record: AthleteRecord) -> str:
    """Draw the session; empty when there is nothing to draw."""
    span = session_span(record)
    if span is None:
        return ""
    x = Scale(span.start_s, span.end_s, _LEFT, _RIGHT)
    parts = [
        *_bouts(record, x),
        *_heart(record, span, x),
        *_muscles(record, span, x),
        *_minutes(span, x),
    ]
    title = said("{athlete}: heart rate and muscle oxygen over the session", athlete=record.athlete)
    return svg.picture(WIDTH, HEIGHT, title, parts)


def _bouts(record: AthleteRecord, x: Scale) -> Iterator[str]:
    for bout in record.bouts:
        if not bout.judged:
            continue
        first, last = x(bout.start_s), x(bout.end_s)
        yield svg.rectangle((first, _HEART[0]), last - first, _MUSCLE[1] - _HEART[0], "work")
        yield svg.line((first, _BOUTS_Y + 8), (last, _BOUTS_Y + 8), "bracket")
        yield svg.label(((first + last) / 2, _BOUTS_Y + 2), str(bout.number), "number", "middle")


def _heart(record: AthleteRecord, span: Span, x: Scale) -> Iterator[str]:
    found = extent([record.heart_rate], span.start_s, span.end_s, least=30)
    if found is None:
        yield svg.label((_LEFT + 4, sum(_HEART) / 2), said("no heart rate recorded"), "quiet")
        return
    y = Scale(found[0], found[1], _HEART[1], _HEART[0])
    if record.band_bpm is not None:
        low, high = (min(max(y(v), _HEART[0]), _HEART[1]) for v in record.band_bpm)
        yield svg.rectangle((_LEFT, high), _RIGHT - _LEFT, low - high, "band")
    yield from _grid(y, found, 2)
    yield svg.curve(pieces(record.heart_rate, span.start_s, span.end_s, x, y), "heart")


def _muscles(record: AthleteRecord, span: Span, x: Scale) -> Iterator[str]:
    found = extent(list(record.smo2.values()), span.start_s, span.end_s, least=20)
    if found is None:
        yield svg.label((_LEFT + 4, sum(_MUSCLE) / 2), said("no muscle oxygen recorded"), "quiet")
        return
    y = Scale(found[0], found[1], _MUSCLE[1], _MUSCLE[0])
    yield from _grid(y, found, 4)
    for i, smo2 in enumerate(record.smo2.values()):
        yield svg.curve(pieces(smo2, span.start_s, span.end_s, x, y), f"site s{i % SITE_LOOKS}")


def line_key(record: AthleteRecord) -> list[tuple[str, str]]:
    """Return a sample of each line, and its name."""
    lines = [("heart", said("heart rate, bpm"))] if len(record.heart_rate) else []
    if lines and record.band_bpm is not None:
        low, high = record.band_bpm
        band = said("your band, {low} to {high} bpm", low=f"{low:.0f}", high=f"{high:.0f}")
        lines.append(("band line", band))
    for i, site in enumerate(record.smo2):
        idle = site in record.idle_sites and not site.lower().endswith(_RESTING)
        name = said("{site} (resting), %", site=site) if idle else f"{site}, %"
        lines.append((f"site s{i % SITE_LOOKS}", name))
    return [(_sample(kind), name) for kind, name in lines]


def _sample(kind: str) -> str:
    stroke = svg.line((0, 4), (26, 4), kind)
    return f'<svg class="sample" viewBox="0 0 26 8" aria-hidden="true">{stroke}</svg>'


def _grid(y: Scale, found: tuple[float, float], about: int) -> Iterator[str]:
    for value in svg.ticks(*found, about):
        yield svg.line((_LEFT, y(value)), (_RIGHT, y(value)), "grid")
        yield svg.label((_LEFT - 5, y(value) + 4), f"{value:g}", "tick", "end")


def _minutes(span: Span, x: Scale) -> Iterator[str]:
    length = (span.end_s - span.start_s) / 60
    for minute in svg.ticks(0, length, 8):
        yield svg.label(
            (x(span.start_s + minute * 60), _TIME_Y), clock(minute * 60), "tick", "middle"
        )
