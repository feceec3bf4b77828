"""Where livemon keeps what belongs to this user on this computer."""

from pathlib import Path
from uuid import uuid4

from platformdirs import user_config_path, user_data_path

from livemon.errors import ConfigError

_APP = "livemon"


def data_folder() -> Path:
    """Return the folder for recordings and remembered sensors; nothing in it leaves by itself."""
    return user_data_path(_APP, appauthor=False)


def settings_folder() -> Path:
    """Return the folder for what a person chose."""
    return user_config_path(_APP, appauthor=False)


def plans_folder() -> Path:
    """Return the folder for one's own plans; it need not be there."""
    return settings_folder() / "plans"


def recordings_folder() -> Path:
    """Return the folder in which recordings are kept."""
    return data_folder() / "recordings"


def host_id() -> str:
    """Return this computer's id, made up on first use: addresses of sensors hold for it alone.

    Raises:
        ConfigError: the data folder can't be written.
    """
    path = data_folder() / "host-id"
    try:
        if path.exists():
            return path.read_text(encoding="utf-8").strip()
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        made = uuid4().hex
        path.write_text(f"{made}\n", encoding="utf-8")
    except OSError as error:
        raise ConfigError(str(path), "", error.strerror or str(error)) from error
    return made
