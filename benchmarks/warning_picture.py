"""Two curves of delay against false warnings, as SVG."""

from collections.abc import Sequence
from math import isfinite, log10
from typing import Protocol

WIDTH, HEIGHT = 720, 440
LEFT, RIGHT, TOP, BOTTOM = 70, 20, 30, 60
FEWEST, MOST = 0.003, 10.0
LONGEST_S = 60.0
LIMIT_PER_HOUR, LIMIT_S = 0.06, 25.0


class Place(Protocol):
    """What is drawn."""

    per_hour: float
    delay_s: float
    note: str


def x(per_hour: float) -> float:
    """Return the place of a rate on the logarithmic axis."""
    share = (log10(per_hour) - log10(FEWEST)) / (log10(MOST) - log10(FEWEST))
    return LEFT + share * (WIDTH - LEFT - RIGHT)


def y(delay_s: float) -> float:
    """Return the place of a delay."""
    return HEIGHT - BOTTOM - min(delay_s, LONGEST_S) / LONGEST_S * (HEIGHT - TOP - BOTTOM)


def text(px: float, py: float, words: str, anchor: str = "middle") -> str:
    """Return one line of text."""
    return f'<text x="{px:.1f}" y="{py:.1f}" text-anchor="{anchor}">{words}</text>'


def line(points: Sequence[tuple[float, float]], style: str) -> str:
    """Return a polyline."""
    joined = " ".join(f"{px:.1f},{py:.1f}" for px, py in points)
    return f'<polyline points="{joined}" fill="none" {style}/>'


def curve(places: Sequence[Place], style: str) -> list[str]:
    """Return a curve with a dot and a note at each place."""
    shown = sorted((p for p in places if isfinite(p.delay_s)), key=lambda p: p.per_hour)
    parts = [line([(x(p.per_hour), y(p.delay_s)) for p in shown], style)]
    for p in shown:
        parts.append(f'<circle cx="{x(p.per_hour):.1f}" cy="{y(p.delay_s):.1f}" r="3.5"/>')
        parts.append(text(x(p.per_hour) + 12, y(p.delay_s) - 6, p.note, "start"))
    return parts


def axes() -> list[str]:
    """Return both axes with their marks, and the limits as dashed lines."""
    floor, grey = HEIGHT - BOTTOM, 'stroke="#888" stroke-width="1"'
    parts = [line([(LEFT, TOP), (LEFT, floor), (WIDTH - RIGHT, floor)], grey)]
    for rate in (0.01, 0.1, 1.0, 10.0):
        parts.append(line([(x(rate), floor), (x(rate), floor + 5)], grey))
        parts.append(text(x(rate), floor + 20, f"{rate:g}"))
    for seconds in range(0, int(LONGEST_S) + 1, 10):
        parts.append(line([(LEFT - 5, y(seconds)), (LEFT, y(seconds))], grey))
        parts.append(text(LEFT - 10, y(seconds) + 4, f"{seconds}", "end"))
    dashed = grey + ' stroke-dasharray="4 4"'
    parts.append(line([(x(LIMIT_PER_HOUR), TOP), (x(LIMIT_PER_HOUR), floor)], dashed))
    parts.append(line([(LEFT, y(LIMIT_S)), (WIDTH - RIGHT, y(LIMIT_S))], dashed))
    parts.append(text(WIDTH / 2, HEIGHT - 16, "false warnings per hour (logarithmic)"))
    parts.append(text(LEFT, TOP - 12, "median delay of fair falls, s", "start"))
    return parts


def draw(warning: Sequence[Place], oracle: Sequence[Place], chosen: Place) -> str:
    """Return the picture; `chosen` is the place of the warning as it ships."""
    parts = axes()
    parts += curve(oracle, 'stroke="#444" stroke-width="2" stroke-dasharray="8 4"')
    parts += curve(warning, 'stroke="#000" stroke-width="2.5"')
    parts.append(
        f'<circle cx="{x(chosen.per_hour):.1f}" cy="{y(chosen.delay_s):.1f}" r="9" '
        'fill="none" stroke="#000" stroke-width="2"/>'
    )
    parts.append(
        text(WIDTH - RIGHT, TOP + 6, "solid: the warning, with its setting certain_nats;", "end")
    )
    parts.append(text(WIDTH - RIGHT, TOP + 24, "ringed: as it ships", "end"))
    parts.append(text(WIDTH - RIGHT, TOP + 42, "long dashes: the oracle", "end"))
    parts.append(text(WIDTH - RIGHT, TOP + 60, "short dashes: the limits", "end"))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" '
        'font-family="sans-serif" font-size="13" role="img">\n'
        "<title>Delay of the drain warning against false warnings per hour</title>\n"
        f'<rect width="{WIDTH}" height="{HEIGHT}" fill="#fff"/>\n' + "\n".join(parts) + "\n</svg>\n"
    )
