"""The registry of remembered sensors as TOML text and back. Where the file lies, `app` knows.

Errors say file, key, expected and found. What a person may write by hand is checked like the rest.
"""

import json
from typing import Final

from livemon.decode.toml_table import TomlTable, parse_toml
from livemon.errors import ConfigError
from livemon.link.identity import MOST_ADDRESSES, HostAddress, Registry, Remembered

_VERSION: Final = 1
_MOST_SENSORS: Final = 500
_LONGEST: Final = 80
_LARGEST_WHEEL_M: Final = 10.0

_HEADING: Final = (
    "# Sensors that livemon remembers on this computer. Addresses and serial numbers are\n"
    "# personal data: keep this file to yourself.\n"
)


def parse_registry(text: str, *, where: str) -> Registry:
    """Read a registry; `where` names the file in messages.

    Raises:
        ConfigError: not TOML, or a key missing, unknown or of no use.
    """
    top = parse_toml(text, where, ConfigError)
    top.whole("livemon_sensors", _VERSION, _VERSION)
    registry: list[Remembered] = []
    for row in top.rows("sensor", _MOST_SENSORS):
        sensor = _sensor(row)
        if any(sensor.sensor == other.sensor for other in registry):
            raise row.error("id", f"expected ids that differ, found {sensor.sensor!r} twice")
        registry.append(sensor)
    top.end()
    return tuple(registry)


def format_registry(registry: Registry) -> str:
    """Write a registry as TOML."""
    lines = [_HEADING, f"livemon_sensors = {_VERSION}\n"]
    for known in registry:
        lines.append("\n[[sensor]]\n")
        lines.append(_line("id", known.sensor) + _line("name", known.name))
        if known.work:
            lines.append("work = true\n")
        if known.wheel_m is not None:
            lines.append(f"wheel_m = {known.wheel_m!r}\n")
        for key, value in (
            ("advertised_name", known.advertised_name),
            ("adapter", known.adapter),
            ("serial", known.serial),
            ("battery_pct", known.battery_pct),
        ):
            if value is not None:
                lines.append(_line(key, value))
        for address in known.addresses:
            lines.append("[[sensor.address]]\n")
            lines.append(_line("host", address.host) + _line("address", address.address))
    return "".join(lines)


def _sensor(row: TomlTable) -> Remembered:
    sensor = Remembered(
        sensor=row.text("id", _LONGEST),
        name=row.text("name", _LONGEST),
        advertised_name=_optional(row, "advertised_name"),
        adapter=_optional(row, "adapter"),
        serial=_optional(row, "serial"),
        battery_pct=row.whole("battery_pct", 0, 100) if row.has("battery_pct") else None,
        work=row.flag("work", False),
        wheel_m=_wheel_m(row),
        addresses=tuple(_address(one) for one in row.rows("address", MOST_ADDRESSES)),
    )
    row.end()
    return sensor


def _address(row: TomlTable) -> HostAddress:
    address = HostAddress(row.text("host", _LONGEST), row.text("address", _LONGEST))
    row.end()
    return address


def _wheel_m(row: TomlTable) -> float | None:
    if not row.has("wheel_m"):
        return None
    wheel_m = float(row.take("wheel_m", float, int))
    if not 0 < wheel_m < _LARGEST_WHEEL_M:
        raise row.error("wheel_m", f"expected metres above 0, found {wheel_m:g}")
    return wheel_m


def _optional(row: TomlTable, key: str) -> str | None:
    return row.text(key, _LONGEST) if row.has(key) else None


def _line(key: str, value: str | int) -> str:
    # A JSON string is a TOML basic string too, but for a raw DEL, which TOML wants escaped.
    shown = json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    return f"{key} = {shown}\n"
