"""One measured figure: its value, its limit, and what it was measured beside."""

import json
import statistics
from collections.abc import Callable, Iterable
from dataclasses import asdict, dataclass
from typing import Final

#: Enough for a median that one hiccup doesn't move.
RUNS: Final = 5


@dataclass(frozen=True, slots=True)
class Figure:
    """A value and what it is held against.

    Attributes:
        what: what was measured, in words.
        value: the value, mostly a median over runs.
        unit: its unit.
        at_most: the limit, if there is one.
        at_least: the limit from below, if there is one.
        beside: the peer or floor measured in the same run, in words.
        curve: the picture that it is a point of, if it is one.
        at: where it stands there, in what the picture's name ends with.
    """

    what: str
    value: float
    unit: str
    at_most: float | None = None
    at_least: float | None = None
    beside: str = ""
    curve: str = ""
    at: float = 0.0

    @property
    def holds(self) -> bool:
        """Is the value within its limits?"""
        above = self.at_least is None or self.value >= self.at_least
        return above and (self.at_most is None or self.value <= self.at_most)

    def to_json(self) -> str:
        """Return one line of JSON."""
        return json.dumps(asdict(self))


def from_json(line: str) -> Figure:
    """Read the line that `to_json` wrote."""
    return Figure(**json.loads(line))


def median_of(run: Callable[[], float], runs: int = RUNS) -> float:
    """Return the median of what `run` returns."""
    return statistics.median(run() for _ in range(runs))


def number(value: float) -> str:
    """Write a value with as many digits as mean something."""
    if value >= 100:
        return f"{value:,.0f}"
    return f"{value:.3g}"


def line(figure: Figure) -> str:
    """Write a figure on one line, for whoever runs a script by itself."""
    beside = f" ({figure.beside})" if figure.beside else ""
    past = "" if figure.holds else " PAST ITS LIMIT"
    return f"{figure.what}: {number(figure.value)} {figure.unit}, {limit(figure)}{beside}{past}"


def limit(figure: Figure) -> str:
    """Write a figure's limit."""
    if figure.at_most is not None:
        return f"at most {number(figure.at_most)}"
    if figure.at_least is not None:
        return f"at least {number(figure.at_least)}"
    return ""


def table(figures: Iterable[Figure]) -> str:
    """Return the figures as a Markdown table."""
    rows = [
        f"| {f.what} | {number(f.value)} {f.unit} | {limit(f)} | {f.beside} | "
        f"{'' if limit(f) == '' else 'yes' if f.holds else '**no**'} |"
        for f in figures
    ]
    head = [
        "| what | measured | limit | beside it, in the same run | holds |",
        "|---|---|---|---|---|",
    ]
    return "\n".join(head + rows)
