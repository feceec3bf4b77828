"""A token of this computer's own: nobody else can speak in the name that a relay has at a hub."""

import secrets
from pathlib import Path
from typing import Final

from livemon.app.private_file import write_private
from livemon.errors import ConfigError

_FILE: Final = "relay-token"
_BYTES: Final = 16


def own_token(folder: Path) -> str:
    """Return the token in `folder`, made up on first use; a relay that starts again has the same.

    Raises:
        ConfigError: it can't be read or written.
    """
    path = folder / _FILE
    try:
        if kept := path.read_text(encoding="ascii").strip():
            return kept
    except FileNotFoundError:
        pass
    except (OSError, UnicodeDecodeError) as error:
        raise ConfigError(str(path), "", f"can't be read: {error}") from error
    made = secrets.token_hex(_BYTES)
    write_private(path, f"{made}\n")
    return made
