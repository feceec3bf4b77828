"""The recordings in a folder: list them, find one, give it a title and tags, delete it.

Everything returns data; who asks the user and who prints is decided elsewhere.
"""

from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import Final

from livemon.errors import UsageError
from livemon.record.disk import open_to_read, translated
from livemon.record.index import Index
from livemon.record.line_file import LineFile
from livemon.record.place import SUFFIX
from livemon.record.side_lines import About, encode_side_line
from livemon.record.summary import Summary, about, summarize

#: Beside the recordings, so that it moves along with them.
_INDEX: Final = "index.sqlite"


class Library:
    """The recordings in `folder`, which need not exist yet."""

    __slots__ = ("_folder",)

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def summaries(self) -> tuple[Summary, ...]:
        """Return what is there, newest first; one file that can't be read hides no other.

        Raises:
            RecordingError: the folder can't be read.
        """
        if not self._folder.exists():
            return ()
        with translated(self._folder):
            files = [path for path in self._folder.iterdir() if path.suffix == SUFFIX]
        index = Index(self._folder / _INDEX)
        try:
            found = [summary for path in files if (summary := _summary(path, index)) is not None]
            index.forget_all_but(summary.file for summary in found)
        finally:
            index.close()
        return tuple(sorted(found, key=lambda one: (one.started_utc, one.file), reverse=True))

    def find(self, name: str) -> Path:
        """Return the recording called `name`: a path, a file's name or its beginning, or a title.

        Raises:
            UsageError: none is called so, or several are; names them.
        """
        if Path(name).is_file():
            return Path(name)
        there = self.summaries()
        found = [one for one in there if name in (one.file, one.title)]
        found = found or [one for one in there if name and one.file.startswith(name)]
        # The short id at the end of a file's name is quickest to type.
        found = found or [one for one in there if name and one.file.endswith(f"-{name}{SUFFIX}")]
        if not found:
            raise UsageError(
                f"no recording called {name!r}; `livemon library list` shows what is there"
            )
        if len(found) > 1:
            several = "; ".join(one.words() for one in found[:5])
            raise UsageError(f"{len(found)} recordings are called {name!r}: {several}")
        return self._folder / found[0].file

    def rebuild(self) -> tuple[Summary, ...]:
        """Throw the index away and read every file again."""
        with translated(self._folder):
            (self._folder / _INDEX).unlink(missing_ok=True)
        return self.summaries()


def rename(path: Path, title: str) -> About:
    """Give the recording a title; its file keeps its name, which tells nothing about anybody.

    Raises:
        RecordingError: the file can't be written.
    """
    return _append(path, About(" ".join(title.split()), about(path).tags))


def tag(path: Path, *, add: Iterable[str] = (), remove: Iterable[str] = ()) -> About:
    """Add and remove tags.

    Raises:
        RecordingError: the file can't be written.
    """
    was = about(path)
    tags = ({*was.tags, *(" ".join(tag.split()) for tag in add)} - {*remove}) - {""}
    return _append(path, About(was.title, tuple(sorted(tags))))


def what_goes(path: Path) -> Summary:
    """Return what deleting the recording would take away, to be shown before asking.

    Raises:
        RecordingError: there is no such file.
    """
    open_to_read(path).close()
    return summarize(path)


def delete(path: Path) -> None:
    """Delete the recording for good. Ask first, with `what_goes`.

    Raises:
        RecordingError: it can't be deleted.
    """
    with translated(path):
        path.unlink()


def _append(path: Path, about: About) -> About:
    open_to_read(path).close()  # opening to append would make a file that is not there
    with translated(path):
        file = LineFile(path)
        try:
            file.append(encode_side_line(about))
        finally:
            file.close()
    return about


def _summary(path: Path, index: Index) -> Summary | None:
    with suppress(FileNotFoundError):  # deleted this very moment
        before = path.stat()
        known = index.known(path.name, before.st_size, before.st_mtime_ns)
        if known is not None:
            return known
        summary = summarize(path)
        index.keep(summary, before.st_mtime_ns)
        return summary
    return None
