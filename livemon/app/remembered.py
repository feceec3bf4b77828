"""The sensors that this user's livemon has met, kept in one file beside the recordings."""

from pathlib import Path
from typing import Final

from livemon.app.private_file import read_private, write_private
from livemon.link.identity import Registry
from livemon.link.registry_file import format_registry, parse_registry

_NAME: Final = "sensors.toml"


def load_sensors(folder: Path) -> Registry:
    """Return the remembered sensors; none where nothing was ever remembered.

    Raises:
        ConfigError: the file can't be read, or isn't one.
    """
    path = folder / _NAME
    text = read_private(path)
    return () if text is None else parse_registry(text, where=str(path))


def save_sensors(folder: Path, registry: Registry) -> None:
    """Write the remembered sensors: the whole file or nothing, readable by this user alone.

    Raises:
        ConfigError: the file can't be written.
    """
    write_private(folder / _NAME, format_registry(registry))
