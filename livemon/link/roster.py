"""The roster: the people who are measured and what they usually wear, as TOML text and back.

Athletes have ids of our own; names stay in this file and on the screen. Details of the body
(adipose tissue, the low seen earlier) are optional: what is not known is left out, never 0. Where
the file lies, `app` knows.
"""

import json
from collections.abc import Iterable
from dataclasses import dataclass
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


@dataclass(frozen=True, slots=True)
class Wears:
    """A sensor that an athlete usually wears, with the muscle site of each of its channels."""

    sensor: str
    sites: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Entry:
    """One person.

    Attributes:
        sites: muscle sites that are used with them, in the order in which they are shown.
    """

    athlete: Athlete
    sites: tuple[str, ...] = ()
    wears: tuple[Wears, ...] = ()


def parse_roster(text: str, *, where: str) -> tuple[Entry, ...]:
    """Read a roster; `where` names the file in messages.

    Raises:
        ConfigError: not TOML, or a key missing, unknown or of no use.
    """
    top = parse_toml(text, where, ConfigError)
    top.whole("livemon_roster", _VERSION, _VERSION)
    roster: list[Entry] = []
    for row in top.rows("athlete", _MOST_ATHLETES):
        entry = _entry(row)
        if any(entry.athlete.athlete == other.athlete.athlete for other in roster):
            raise row.error(
                "id", f"expected ids that differ, found {entry.athlete.athlete!r} twice"
            )
        roster.append(entry)
    top.end()
    return tuple(roster)


def format_roster(roster: Iterable[Entry]) -> str:
    """Write a roster as TOML."""
    blocks = [f"{_HEADING}livemon_roster = {_VERSION}\n"]
    blocks += ["\n" + "".join(_lines(entry)) for entry in roster]
    return "".join(blocks)


def _lines(entry: Entry) -> Iterable[str]:
    athlete = entry.athlete
    yield f"[[athlete]]\nid = {_quoted(athlete.athlete)}\n"
    if athlete.name:
        yield f"name = {_quoted(athlete.name)}\n"
    if athlete.band_bpm is not None:
        yield f"band_bpm = {list(athlete.band_bpm)}\n"
    if athlete.adipose_mm is not None:
        yield f"adipose_mm = {athlete.adipose_mm!r}\n"
    lows = dict(athlete.own_low_pct)
    for site in dict.fromkeys((*entry.sites, *lows)):
        yield f"[[athlete.site]]\nname = {_quoted(site)}\n"
        if site in lows:
            yield f"own_low_pct = {lows[site]!r}\n"
    for worn in entry.wears:
        yield f"[[athlete.wears]]\nsensor = {_quoted(worn.sensor)}\n"
        if worn.sites:
            yield f"sites = [{', '.join(map(_quoted, worn.sites))}]\n"


def _entry(row: TomlTable) -> Entry:
    lows: dict[str, float | None] = {}
    for site in row.rows("site", _MOST_SITES):
        name = site.text("name", _LONGEST)
        if name in lows:
            raise site.error("name", f"expected sites that differ, found {name!r} twice")
        lows[name] = _number(site, "own_low_pct", 100.0)
        site.end()
    athlete = Athlete(
        athlete=row.text("id", _LONGEST),
        name=row.text("name", _LONGEST) if row.has("name") else "",
        band_bpm=_band(row) if row.has("band_bpm") else None,
        adipose_mm=_number(row, "adipose_mm", _THICKEST_MM),
        own_low_pct=tuple((site, low) for site, low in lows.items() if low is not None),
    )
    wears = tuple(_worn(worn, tuple(lows)) for worn in row.rows("wears", _MOST_SITES))
    row.end()
    return Entry(athlete, tuple(lows), wears)


def _worn(row: TomlTable, known: tuple[str, ...]) -> Wears:
    sensor = row.text("sensor", _LONGEST)
    sites: list[object] = row.take("sites", list) if row.has("sites") else []
    for site in sites:
        if site not in known:
            expected = ", ".join(known) or "none"
            raise row.error("sites", f"expected sites of this athlete ({expected}), found {site!r}")
    row.end()
    return Wears(sensor, tuple(str(site) for site in sites))


def _band(row: TomlTable) -> tuple[int, int]:
    first, second = row.pair("band_bpm")
    low = row.checked_whole("band_bpm[0]", first, *_BAND_BPM)
    high = row.checked_whole("band_bpm[1]", second, *_BAND_BPM)
    if low >= high:
        raise row.error("band_bpm", f"expected the smaller number first, found [{low}, {high}]")
    return low, high


def _number(row: TomlTable, key: str, most: float) -> float | None:
    """Return a number from 0 to `most`; None where the key is not there."""
    if not row.has(key):
        return None
    value = row.checked_number(key, row.take(key, int, float))
    if not 0 <= value <= most:
        raise row.error(key, f"expected a number from 0 to {most:g}, found {value:g}")
    return value


def _quoted(text: str) -> str:
    # A JSON string is a TOML basic string too, but for a raw DEL, which TOML wants escaped.
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
