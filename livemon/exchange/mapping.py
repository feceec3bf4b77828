"""A mapping file: which columns of a CSV file mean what. docs/exchange.md explains every key.

started = "2026-03-02T17:30:00+01:00"  # unless the file has dates
separator = ";"                        # "," if left out
decimal = ","                          # "." if left out

[time]
column = "Time"
format = "s"                           # or "ms", "min", "clock", "iso", "unix"

[[series]]
column = "SmO2"
quantity = "smo2"                      # or "heart_rate", "rr", "thb", "power", "speed"
site = "left thigh"                    # with smo2 and thb

[phase]                                # may be left out
column = "Work"
rest = ["rest"]
"""

from dataclasses import dataclass
from enum import Enum
from math import isfinite
from typing import Any, Final

from livemon.decode.toml_table import TomlTable, parse_toml, shown
from livemon.errors import ConfigError
from livemon.exchange.clocks import Clock

_VERSION: Final = 1
_MOST_SERIES: Final = 200
_MOST_BOUTS: Final = 1000
_SEPARATORS: Final = {",": ",", ";": ";", "tab": "\t", "|": "|"}


class Quantity(Enum):
    """What a column can be; the values are those of the file."""

    HEART_RATE = "heart_rate"  #: bpm
    RR = "rr"  #: s
    SMO2 = "smo2"  #: %
    THB = "thb"
    POWER = "power"  #: W
    SPEED = "speed"  #: m/s


_OF_A_SITE: Final = frozenset({Quantity.SMO2, Quantity.THB})


@dataclass(frozen=True, slots=True)
class Series:
    """One quantity of one athlete.

    Attributes:
        site: empty where the quantity has none.
        unit: of total haemoglobin.
        factor: what the file's numbers are multiplied by.
        where: only rows whose columns say this.
    """

    column: str
    quantity: Quantity
    athlete: str
    site: str
    unit: str
    factor: float
    where: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Phases:
    """A column that names the work of each row; a change begins a bout or a recovery."""

    column: str
    rest: frozenset[str]


@dataclass(frozen=True, slots=True)
class Stretch:
    """A bout or recovery that the mapping names itself, in seconds since the start."""

    start_s: float
    end_s: float
    work: str  #: empty for a recovery
    resting: bool


@dataclass(frozen=True, slots=True)
class Mapping:
    """The whole file.

    Attributes:
        started: wall clock at the file's time 0, where its times don't tell.
    """

    separator: str
    decimal: str
    started: str | None
    time_column: str
    clock: Clock
    zone: str | None
    series: tuple[Series, ...]
    phases: Phases | None
    stretches: tuple[Stretch, ...]


def parse_mapping(text: str, where: str) -> Mapping:
    """Read a mapping; `where` names the file in messages.

    Raises:
        ConfigError: not TOML, or a key missing, unknown, or of no use.
    """
    top = parse_toml(text, where, ConfigError)
    top.whole("livemon_mapping", _VERSION, _VERSION)
    separator = top.choice("separator", _SEPARATORS) if top.has("separator") else ","
    decimal = top.choice("decimal", (".", ",")) if top.has("decimal") else "."
    if decimal == separator:
        raise top.error("separator", "expected another sign than the decimal one")
    time = top.table("time")
    clock = Clock(time.choice("format", [clock.value for clock in Clock]))
    mapping = Mapping(
        _SEPARATORS[separator],
        decimal,
        top.text("started", 40) if top.has("started") else None,
        time.text("column", 200),
        clock,
        time.text("zone", 60) if time.has("zone") else None,
        tuple(_series(row) for row in top.rows("series", _MOST_SERIES)),
        _phases(top.table("phase")) if top.has("phase") else None,
        tuple(_stretch(row) for row in top.rows("bout", _MOST_BOUTS)),
    )
    time.end()
    top.end()
    if not mapping.series:
        raise top.error("series", "missing; a mapping has at least one [[series]]")
    if mapping.started is None and not clock.has_date:
        raise top.error("started", f"missing; times in {clock.value!r} don't tell the day")
    return mapping


def _series(row: TomlTable) -> Series:
    quantity = Quantity(row.choice("quantity", [quantity.value for quantity in Quantity]))
    series = Series(
        row.text("column", 200),
        quantity,
        row.text("athlete", 60) if row.has("athlete") else "a1",
        row.text("site", 60) if quantity in _OF_A_SITE else "",
        row.text("unit", 16) if quantity is Quantity.THB and row.has("unit") else "a.u.",
        _factor(row) if row.has("factor") else 1.0,
        _where(row) if row.has("where") else (),
    )
    row.end()
    return series


def _factor(row: TomlTable) -> float:
    factor = row.checked_number("factor", row.take("factor", int, float))
    if factor == 0 or not isfinite(factor):
        raise row.error("factor", "expected a number other than 0")
    return factor


def _where(row: TomlTable) -> tuple[tuple[str, str], ...]:
    wanted: dict[str, Any] = row.take("where", dict)
    for column, value in wanted.items():
        if type(value) is not str:
            raise row.error(f"where.{column}", f"expected text, found {shown(value)}")
    return tuple(wanted.items())


def _phases(table: TomlTable) -> Phases:
    column = table.text("column", 200)
    rest: list[object] = table.take("rest", list) if table.has("rest") else []
    table.end()
    return Phases(column, frozenset(str(word) for word in rest))


def _stretch(row: TomlTable) -> Stretch:
    start_s = row.checked_number("start_s", row.take("start_s", int, float))
    end_s = row.checked_number("end_s", row.take("end_s", int, float))
    resting = row.flag("recovery", default=False)
    work = row.text("work", 60) if row.has("work") else ""
    row.end()
    if not 0 <= start_s < end_s:
        raise row.error("end_s", "expected a time after start_s, which is 0 or later")
    return Stretch(start_s, end_s, work, resting)
