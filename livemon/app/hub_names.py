"""Who is who at the hub: names that are known here and never travelled.

[names]
"gym-1.a1" = "Ada"
"gym-2.a1" = "Ben"
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Final

from livemon.decode.toml_table import parse_toml
from livemon.errors import ConfigError
from livemon.events import AthleteChanged, Event

_LONGEST: Final = 60


def read_names(path: Path) -> dict[str, str]:
    """Return the names in a file, by athlete's id.

    Raises:
        ConfigError: it can't be read, or holds something else.
    """
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise ConfigError(str(path), "", f"can't be read: {error}") from error
    top = parse_toml(text, str(path), ConfigError)
    rows: dict[str, str] = top.take("names", dict)
    top.end()
    for athlete, name in rows.items():
        if not isinstance(name, str) or not 0 < len(name) <= _LONGEST:
            raise ConfigError(
                str(path), f"names.{athlete}", f"expected a name of up to {_LONGEST} letters"
            )
    return rows


def named(events: Iterable[Event], names: Mapping[str, str]) -> list[Event]:
    """Return the events with names where relays left them out."""
    return [
        replace(event, athlete=replace(event.athlete, name=names[event.athlete.athlete]))
        if isinstance(event, AthleteChanged)
        and not event.athlete.name
        and event.athlete.athlete in names
        else event
        for event in events
    ]
