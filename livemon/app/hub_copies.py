"""The hub's own copy of each relay's recording, line by line, whole and in order.

It becomes a recording like any other: the head first, then the lines as they were sent. How many
lines a copy has is counted afresh when the hub starts; the relays send on from there. A disk that
takes nothing is told, and tried again whenever lines come.
"""

import os
from pathlib import Path
from typing import Final

from livemon.net.hub import Source
from livemon.record.disk import words
from livemon.record.head import HEAD_START
from livemon.record.line_file import LineFile, to_disk
from livemon.record.place import SUFFIX

#: Stands where a line can't be kept as it came; readers skip types that they don't know.
_DAMAGED: Final = '{"type":"damaged"}'
#: How lines begin that a relay never sends, and that don't count.
_NOT_COUNTED: Final = (HEAD_START, b'{"type":"about"')
#: Files kept open; a class of 24 with a relay each writes to 24.
_MOST_OPEN: Final = 64


class HubCopies:
    """The copies in `folder`, which is made if need be."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._open: dict[Source, LineFile] = {}
        self._heads: dict[Source, str] = {}
        self.problem = ""  #: why lines can't be kept just now; empty if they can

    def stored(self, source: Source) -> int:
        """Return how many lines there are; a last one that was cut off is taken away."""
        try:
            return _count(self._path(source))
        except OSError as error:
            self.problem = words(error)
            return 0

    def head(self, source: Source, line: str) -> None:
        """Take the head of a recording; it is written when its first line comes."""
        self._heads.setdefault(source, line)

    def keep(self, source: Source, lines: tuple[bytes, ...]) -> bool:
        """Write the next lines, all or none; return whether they stand there."""
        try:
            file = self._file(source)
            file.append("\n".join(map(_storable, lines)))
        except OSError as error:
            self.problem = words(error)
            return False
        self.problem = ""
        return True

    def sync(self) -> None:
        """Force what was written onto the disk; may be called from another thread."""
        for file in tuple(self._open.values()):
            try:
                to_disk(file.descriptor)
            except OSError:  # closed this moment; or the next write will say what is wrong
                continue

    def close(self) -> None:
        """Let go of all files."""
        while self._open:
            self._close(next(iter(self._open)))

    def _file(self, source: Source) -> LineFile:
        if source in self._open:
            return self._open[source]
        if len(self._open) >= _MOST_OPEN:
            self._close(next(iter(self._open)))
        self._folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        file = LineFile(self._path(source))
        if file.empty and source in self._heads:
            file.append(self._heads[source])
        self._open[source] = file
        return file

    def _close(self, source: Source) -> None:
        file = self._open.pop(source)
        try:
            to_disk(file.descriptor)
            file.close()
        except OSError as error:
            self.problem = words(error)

    def _path(self, source: Source) -> Path:
        """Return the place; both ids are such that they can't lead out of the folder."""
        return self._folder / f"{source.relay}-{source.session}{SUFFIX}"


def _storable(line: bytes) -> str:
    if line.startswith(_NOT_COUNTED) or b"\r" in line or not line.isascii():
        return _DAMAGED
    return line.decode("ascii")


def _count(path: Path) -> int:
    if not path.exists():
        return 0
    count = whole_bytes = 0
    with path.open("rb") as file:
        for line in file:
            if line.endswith(b"\n"):
                whole_bytes += len(line)
                count += not line.startswith(_NOT_COUNTED)
    if whole_bytes < path.stat().st_size:
        os.truncate(path, whole_bytes)
    return count
