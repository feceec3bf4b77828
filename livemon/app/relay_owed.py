"""Which recordings a relay may still owe to a hub, kept over restarts and power cuts.

Each stands there from before its first line is sent until a hub said that it has all of it. They
are kept by where they were meant to go: one class's data is never sent to another's broker.
"""

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from livemon.app.private_file import write_private
from livemon.errors import ConfigError

_NAME: Final = "owed.json"
#: A hub takes more at a time; older ones follow when these are done.
MOST: Final = 24


@dataclass(frozen=True, slots=True)
class Owed:
    """One recording."""

    to: str  #: broker or hub, group and relay
    session: str
    path: str


class OwedFile:
    """The list in `folder`.

    Raises:
        ConfigError: it can't be read.
    """

    def __init__(self, folder: Path) -> None:
        self._path = folder / _NAME
        try:
            rows = json.loads(self._path.read_text(encoding="utf-8"))
            self._all = tuple(Owed(row["to"], row["session"], row["path"]) for row in rows)
        except FileNotFoundError:
            self._all = ()
        except (OSError, ValueError, TypeError, KeyError) as error:
            raise ConfigError(
                str(self._path),
                "",
                f"can't be read ({error}); if it is deleted, only recordings that a hub lacks are "
                "no longer sent by themselves",
            ) from error

    def to(self, to: str) -> tuple[Owed, ...]:
        """Return what is owed there, newest first, as far as the recordings still exist."""
        there = [owed for owed in self._all if owed.to == to and Path(owed.path).exists()]
        return tuple(reversed(there))[:MOST]

    def add(self, owed: Owed) -> None:
        """Remember one more.

        Raises:
            ConfigError: the file can't be written.
        """
        self._write((*self._all, owed))

    def done(self, session: str) -> None:
        """Forget one: a hub has all of it.

        Raises:
            ConfigError: the file can't be written.
        """
        if any(owed.session == session for owed in self._all):
            self._write(tuple(owed for owed in self._all if owed.session != session))

    def _write(self, owed: tuple[Owed, ...]) -> None:
        self._all = owed
        rows = [{"to": one.to, "session": one.session, "path": one.path} for one in owed]
        write_private(self._path, json.dumps(rows, indent=1) + "\n")
