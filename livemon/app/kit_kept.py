"""What the Kit page keeps from one session to the next: people, and adapters that were added."""

from pathlib import Path
from typing import Final

from livemon.app.private_file import read_private, write_private
from livemon.link.roster import Entry, format_roster, parse_roster

_ROSTER: Final = "athletes.toml"
_ADAPTERS: Final = "adapters"


def load_roster(folder: Path) -> tuple[Entry, ...]:
    """Return the people met before.

    Raises:
        ConfigError: the file can't be read, or isn't one.
    """
    path = folder / _ROSTER
    text = read_private(path)
    return () if text is None else parse_roster(text, where=str(path))


def save_roster(folder: Path, roster: tuple[Entry, ...]) -> None:
    """Keep these people.

    Raises:
        ConfigError: the file can't be written.
    """
    write_private(folder / _ROSTER, format_roster(roster))


def load_adapters(folder: Path) -> dict[str, str]:
    """Return the TOML texts of the adapters that were added, by name.

    Raises:
        ConfigError: a file can't be read.
    """
    paths = sorted((folder / _ADAPTERS).glob("*.toml"))
    return {path.stem: text for path in paths if (text := read_private(path)) is not None}


def save_adapter(folder: Path, name: str, text: str) -> None:
    """Keep an adapter; its name is made of small letters, digits and hyphens.

    Raises:
        ConfigError: the file can't be written.
    """
    write_private(folder / _ADAPTERS / f"{name}.toml", text)
