"""The keys of an adapter file: top, start-up writes, layout. See `docs/adapters.md`."""

import re
from dataclasses import dataclass
from typing import Final

from livemon.decode.adapter_field import not_used_with, read_field
from livemon.decode.adapter_rules import check_fields, fixed_length
from livemon.decode.layout import LONGEST_VALUE, Layout
from livemon.decode.toml_table import TomlTable, shown
from livemon.decode.uuids import normal_uuid

#: Version of the file format that is written and read here.
ADAPTER_VERSION: Final = 1

_MOST_CHANNELS: Final = 16
_MOST_FIELDS: Final = 64
_MOST_WRITES: Final = 16
_FASTEST_HZ: Final = 1000.0

_NAME: Final = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")
_TOP_ONLY: Final = dict.fromkeys(
    ("livemon_adapter", "name", "about", "service", "rate_hz", "use_start_notify", "pair",
     "channels", "min_len"),
    "expected at the top of the file, above the first [[field]] or [[start_up]], found below it",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class StartUpWrite:
    """Octets that the sensor wants before it sends."""

    characteristic: str
    octets: bytes
    response: bool  #: wait for the sensor's answer


@dataclass(frozen=True, slots=True)
class Connection:
    """How to reach the sensor.

    Attributes:
        about: what the file is for, for people; may be empty.
        rate_hz: packets a second that the sensor is said to send; None if not said.
        use_start_notify: subscribe by the system's StartNotify and not by a file descriptor
            (Linux only; some sensors send nothing the other way).
        pair: the sensor demands a bond.
        start_up: to be written, in order, after subscribing.
    """

    name: str
    about: str
    service: str
    characteristic: str
    rate_hz: float | None
    use_start_notify: bool
    pair: bool
    start_up: tuple[StartUpWrite, ...]


def read_connection(top: TomlTable) -> Connection:
    """Read all but the layout; the keys of the layout stay in the table."""
    top.whole("livemon_adapter", ADAPTER_VERSION, ADAPTER_VERSION)
    name = top.text("name", longest=40)
    if not _NAME.fullmatch(name):
        raise top.error("name", f"expected small letters, digits and hyphens, found {shown(name)}")
    return Connection(
        name=name,
        about=top.text("about", longest=400) if top.has("about") else "",
        service=_uuid(top, "service"),
        characteristic=_uuid(top, "characteristic"),
        rate_hz=_rate(top) if top.has("rate_hz") else None,
        use_start_notify=top.flag("use_start_notify", default=True),
        pair=top.flag("pair", default=False),
        start_up=tuple(_write(row) for row in top.rows("start_up", _MOST_WRITES)),
    )


def read_layout(top: TomlTable) -> Layout:
    """Read the layout, which is all that is left in the table, and check it as a whole."""
    little = _little(top)
    channels = _channels(top)
    said = top.whole("min_len", 1, LONGEST_VALUE) if top.has("min_len") else None
    rows = top.rows("field", _MOST_FIELDS)
    top.end()
    fields = []
    for row in rows:
        fields.append(read_field(row, channels, little=little))
        row.end(_TOP_ONLY | not_used_with(fields[-1].quantity))
    check_fields(tuple(fields), channels, top, rows)
    return Layout(channels, tuple(fields), fixed_length(tuple(fields)) if said is None else said)


def _little(top: TomlTable) -> bool:
    if not top.has("byte_order"):
        return True
    return top.choice("byte_order", ("little", "big")) == "little"


def _channels(top: TomlTable) -> tuple[str, ...]:
    if not top.has("channels"):
        return ("muscle",)
    names: list[object] = top.take("channels", list)
    if not 1 <= len(names) <= _MOST_CHANNELS:
        raise top.error("channels", f"expected 1 to {_MOST_CHANNELS} names, found {len(names)}")
    channels = []
    for name in names:
        if not (isinstance(name, str) and _NAME.fullmatch(name)) or name in channels:
            raise top.error(
                "channels",
                f"expected different names of small letters, digits and hyphens, "
                f"found {shown(name)}",
            )
        channels.append(name)
    return tuple(channels)


def _uuid(table: TomlTable, key: str) -> str:
    text: str = table.take(key, str)
    uuid = normal_uuid(text)
    if uuid is None:
        raise table.error(
            key, f"expected a UUID, as 12345678-1234-1234-1234-123456789abc, found {shown(text)}"
        )
    return uuid


def _rate(top: TomlTable) -> float:
    rate_hz = top.checked_number("rate_hz", top.take("rate_hz", int, float))
    if not 0 < rate_hz <= _FASTEST_HZ:
        raise top.error("rate_hz", f"expected above 0 to {_FASTEST_HZ:g}, found {rate_hz:g}")
    return rate_hz


def _write(row: TomlTable) -> StartUpWrite:
    characteristic = _uuid(row, "characteristic")
    text: str = row.take("octets", str)
    try:
        octets = bytes.fromhex(text)
    except ValueError:
        octets = b""
    if not 1 <= len(octets) <= LONGEST_VALUE:
        raise row.error("octets", f"expected octets as '01 0A', found {shown(text)}")
    response = row.flag("response", default=True)
    row.end(_TOP_ONLY)
    return StartUpWrite(characteristic, octets, response)
