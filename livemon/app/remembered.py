"""The sensors that this user's livemon has met, kept in one file beside the recordings."""

import contextlib
import os
from pathlib import Path
from typing import Final

from livemon.errors import ConfigError
from livemon.link.identity import Registry
from livemon.link.registry_file import format_registry, parse_registry

_NAME: Final = "sensors.toml"


def load_sensors(folder: Path) -> Registry:
    """Return the remembered sensors; none where nothing was ever remembered.

    Raises:
        ConfigError: the file can't be read, or isn't one.
    """
    path = folder / _NAME
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        return ()
    except (OSError, UnicodeDecodeError) as error:
        raise ConfigError(str(path), "", f"can't be read: {error}") from error
    return parse_registry(text, where=str(path))


def save_sensors(folder: Path, registry: Registry) -> None:
    """Write the remembered sensors: the whole file or nothing, readable by this user alone.

    Raises:
        ConfigError: the file can't be written.
    """
    path, fresh = folder / _NAME, folder / f"{_NAME}.new"
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        with contextlib.suppress(FileNotFoundError):
            fresh.unlink()  # left by a run that was killed
        descriptor = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(descriptor, "w", encoding="utf-8") as file:
            file.write(format_registry(registry))
        fresh.replace(path)
    except OSError as error:
        raise ConfigError(str(path), "", f"can't be written: {error.strerror}") from error
