"""A small file that is written as a whole or not at all, readable by this user alone."""

import contextlib
import os
from pathlib import Path

from livemon.errors import ConfigError


def read_private(path: Path) -> str | None:
    """Return the text of the file; None if there is none.

    Raises:
        ConfigError: it can't be read.
    """
    try:
        return path.read_text(encoding="utf-8")
    except FileNotFoundError:
        return None
    except (OSError, UnicodeDecodeError) as error:
        raise ConfigError(str(path), "", f"can't be read: {error}") from error


def write_private(path: Path, text: str) -> None:
    """Put `text` in place of what was there.

    Raises:
        ConfigError: it can't be written.
    """
    fresh = path.with_name(f"{path.name}.new")
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        with contextlib.suppress(FileNotFoundError):
            fresh.unlink()  # left by a run that was killed
        descriptor = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(descriptor, "w", encoding="utf-8") as file:
            file.write(text)
        fresh.replace(path)
    except OSError as error:
        raise ConfigError(str(path), "", f"can't be written: {error.strerror}") from error
