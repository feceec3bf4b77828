"""What the operating system says about a file, in words that say what to do."""

import errno
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import MappingProxyType
from typing import BinaryIO, Final

from livemon.errors import RecordingError
from livemon.tongue import marked, said

_NOT_ALLOWED: Final = marked(
    "you are not allowed to; ask whoever owns the file, or take another place"
)
_CURES: Final = MappingProxyType(
    {
        errno.ENOENT: marked("there is no such file; `livemon library list` shows what is there"),
        errno.EISDIR: marked("it is a folder; give the recording inside it"),
        errno.EACCES: marked(
            "you are not allowed to; ask whoever owns the file, or take another place"
        ),
        errno.EPERM: marked(
            "you are not allowed to; ask whoever owns the file, or take another place"
        ),
        errno.ENOSPC: marked("the disk is full; make room"),
        errno.EDQUOT: marked("your share of the disk is used up; make room"),
        errno.EFBIG: marked("the file has reached the largest size allowed; make room"),
        errno.EROFS: marked("this disk can only be read; take another place"),
        errno.EIO: marked("the disk has failed; take another one, and copy what can be copied"),
        errno.ENOTDIR: marked("part of the path is a file and not a folder"),
        errno.EEXIST: marked("something of this name is there already"),
        errno.ENAMETOOLONG: marked("the name is too long"),
    }
)


def words(error: OSError) -> str:
    """Return what happened and what to do about it."""
    known = _CURES.get(error.errno or 0)
    return said(known) if known else (error.strerror or str(error)).lower()


@contextmanager
def translated(path: Path) -> Iterator[None]:
    """Turn the system's errors about `path` into RecordingError."""
    try:
        yield
    except OSError as error:
        raise RecordingError(str(path), "", words(error)) from error


def open_to_read(path: Path) -> BinaryIO:
    """Open `path` for reading bytes.

    Raises:
        RecordingError: it can't be opened; says why and what to do.
    """
    with translated(path):
        if path.is_dir():  # Windows would call it a lack of permission
            raise IsADirectoryError(errno.EISDIR, "is a directory")
        return path.open("rb")
