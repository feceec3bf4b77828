"""The roster: the people who are measured, as TOML text and back. Where the file lies, `app` knows.

Athletes have ids of our own; names stay in this file and on the screen. The details of the body
(adipose tissue, the low seen earlier) are optional: what is not known is left out, never 0.
"""

import json
import math
from typing import Final

from livemon.decode.toml_table import TomlTable, parse_toml
from livemon.errors import ConfigError
from livemon.events import Athlete

_VERSION: Final = 1
_MOST_ATHLETES: Final = 500
_MOST_SITES: Final = 32
_LONGEST: Final = 80
_BAND_BPM: Final = (20, 250)
_THICKEST_MM: Final = 100.0

_HEADING: Final = (
    "# People whom livemon measures on this computer. This is personal data: keep it to yourself.\n"
)


def parse_roster(text: str, *, where: str) -> tuple[Athlete, ...]:
    """Read a roster; `where` names the file in messages.

    Raises:
        ConfigError: not TOML, or a key missing, unknown or of no use.
    """
    top = parse_toml(text, where, ConfigError)
    top.whole("livemon_roster", _VERSION, _VERSION)
    roster: list[Athlete] = []
    for row in top.rows("athlete", _MOST_ATHLETES):
        athlete = _athlete(row)
        if any(athlete.athlete == other.athlete for other in roster):
            raise row.error("id", f"expected ids that differ, found {athlete.athlete!r} twice")
        roster.append(athlete)
    top.end()
    return tuple(roster)


def format_roster(roster: tuple[Athlete, ...]) -> str:
    """Write a roster as TOML."""
    lines = [_HEADING, f"livemon_roster = {_VERSION}\n"]
    for athlete in roster:
        lines.append(f"\n[[athlete]]\nid = {_quoted(athlete.athlete)}\n")
        if athlete.name:
            lines.append(f"name = {_quoted(athlete.name)}\n")
        if athlete.band_bpm is not None:
            low, high = athlete.band_bpm
            lines.append(f"band_bpm = [{low}, {high}]\n")
        if athlete.adipose_mm is not None:
            lines.append(f"adipose_mm = {athlete.adipose_mm!r}\n")
        for site, low_pct in athlete.own_low_pct:
            lines.append(f"[[athlete.site]]\nname = {_quoted(site)}\nown_low_pct = {low_pct!r}\n")
    return "".join(lines)


def _athlete(row: TomlTable) -> Athlete:
    athlete = Athlete(
        athlete=row.text("id", _LONGEST),
        name=row.text("name", _LONGEST) if row.has("name") else "",
        band_bpm=_band(row) if row.has("band_bpm") else None,
        adipose_mm=_number(row, "adipose_mm", _THICKEST_MM) if row.has("adipose_mm") else None,
        own_low_pct=_lows(row),
    )
    row.end()
    return athlete


def _band(row: TomlTable) -> tuple[int, int]:
    first, second = row.pair("band_bpm")
    low = row.checked_whole("band_bpm[0]", first, *_BAND_BPM)
    high = row.checked_whole("band_bpm[1]", second, *_BAND_BPM)
    if low >= high:
        raise row.error("band_bpm", f"expected the smaller number first, found [{low}, {high}]")
    return low, high


def _lows(row: TomlTable) -> tuple[tuple[str, float], ...]:
    lows: dict[str, float] = {}
    for site in row.rows("site", _MOST_SITES):
        name = site.text("name", _LONGEST)
        if name in lows:
            raise site.error("name", f"expected sites that differ, found {name!r} twice")
        lows[name] = _number(site, "own_low_pct", 100.0)
        site.end()
    return tuple(lows.items())


def _number(row: TomlTable, key: str, most: float) -> float:
    value = row.checked_number(key, row.take(key, int, float))
    if not (math.isfinite(value) and 0 <= value <= most):
        raise row.error(key, f"expected a number from 0 to {most:g}, found {value:g}")
    return value


def _quoted(text: str) -> str:
    # A JSON string is a TOML basic string too, but for a raw DEL, which TOML wants escaped.
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
