"""Write the few SVG shapes that our pictures need. Everything that is text gets escaped.

Own and small: pictures stay sharp on paper and on a phone, weigh some kilobytes, and need no
plotting library where the sheet is made.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from html import escape
from math import ceil, floor, log10

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Scale:
    """From values to picture units along one axis."""

    first: float
    last: float
    start: float
    end: float

    def __call__(self, value: float) -> float:
        """Return where a value lies."""
        share = (value - self.first) / ((self.last - self.first) or 1.0)
        return self.start + share * (self.end - self.start)


def ticks(low: float, high: float, about: int) -> list[float]:
    """Return round values from low to high, roughly as many as asked for."""
    rough = (high - low) / max(about, 1)
    if rough <= 0:
        return [low]
    power = 10.0 ** floor(log10(rough))
    step = next(power * m for m in (1, 2, 5, 10) if power * m >= rough * 0.999)
    first, last = ceil(low / step - 1e-9), floor(high / step + 1e-9)
    return [round(i * step, 10) for i in range(first, last + 1)]


def attributes(given: Mapping[str, str | float]) -> str:
    """Write attributes; numbers to a tenth of a unit."""
    return "".join(
        f' {name}="{escape(value) if isinstance(value, str) else _short(value)}"'
        for name, value in given.items()
    )


def picture(width: float, height: float, title: str, parts: Iterable[str]) -> str:
    """Wrap parts into a picture that scales to its place and says what it shows."""
    head = attributes({"viewBox": f"0 0 {_short(width)} {_short(height)}", "role": "img"})
    return f"<svg{head}><title>{escape(title)}</title>{''.join(parts)}</svg>"


def line(a: Point, b: Point, kind: str) -> str:
    """Draw a straight line; `kind` names its look in the style sheet."""
    at: dict[str, str | float] = {"class": kind, "x1": a[0], "y1": a[1], "x2": b[0], "y2": b[1]}
    return f"<line{attributes(at)}/>"


def rectangle(corner: Point, width: float, height: float, kind: str) -> str:
    """Draw a filled rectangle."""
    at: dict[str, str | float] = {
        "class": kind,
        "x": corner[0],
        "y": corner[1],
        "width": width,
        "height": height,
    }
    return f"<rect{attributes(at)}/>"


def dot(at: Point, radius: float, kind: str) -> str:
    """Draw a dot."""
    return f"<circle{attributes({'class': kind, 'cx': at[0], 'cy': at[1], 'r': radius})}/>"


def label(at: Point, words: str, kind: str, anchor: str = "start") -> str:
    """Write words."""
    given: dict[str, str | float] = {"class": kind, "x": at[0], "y": at[1], "text-anchor": anchor}
    return f"<text{attributes(given)}>{escape(words)}</text>"


def curve(pieces: Iterable[Sequence[Point]], kind: str) -> str:
    """Draw a line with breaks: one piece after the other."""
    drawn = "".join(
        "M" + "L".join(f"{_short(x)},{_short(y)}" for x, y in piece)
        for piece in pieces
        if len(piece) > 1
    )
    return f"<path{attributes({'class': kind, 'd': drawn})}/>" if drawn else ""


def area(corners: Sequence[Point], kind: str) -> str:
    """Draw a filled shape."""
    points = " ".join(f"{_short(x)},{_short(y)}" for x, y in corners)
    return f"<polygon{attributes({'class': kind, 'points': points})}/>"


def _short(value: float) -> str:
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text
