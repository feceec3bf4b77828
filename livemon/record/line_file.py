"""A file that grows by whole lines only, and is cut back when a line did not fit.

One write of one full line on a descriptor opened for appending: a kill leaves whole lines, and at
worst an unfinished one. When the disk is full, a write may store a part of the line and say so
only by its count; appending after that would glue two lines together.
"""

import os
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Final

#: Writes bytes to a descriptor and returns how many it took; tests hand in small disks.
Write = Callable[[int, bytes], int]

#: Only Windows knows it, and translates newlines without it.
_BINARY: Final = getattr(os, "O_BINARY", 0)

#: Health data: nobody but the user reads it.
PRIVATE: Final = 0o600

if sys.platform == "darwin":
    import fcntl

    def to_disk(descriptor: int) -> None:
        """Force what was written onto the disk; there, fsync stops at the drive's own cache."""
        fcntl.fcntl(descriptor, fcntl.F_FULLFSYNC)
else:

    def to_disk(descriptor: int) -> None:
        """Force what was written onto the disk."""
        os.fsync(descriptor)


class LineFile:
    """An open file that lines are appended to.

    Raises:
        OSError: it can't be opened.
    """

    __slots__ = ("_fresh", "_write", "descriptor")

    def __init__(self, path: Path, write: Write = os.write) -> None:
        flags = os.O_RDWR | os.O_CREAT | os.O_APPEND | _BINARY
        self.descriptor = os.open(path, flags, PRIVATE)
        self._write = write
        self._fresh = self.empty or self._last_byte() == b"\n"

    @property
    def empty(self) -> bool:
        """Nothing has been written to it yet."""
        return os.lseek(self.descriptor, 0, os.SEEK_END) == 0

    def append(self, line: str) -> None:
        """Write `line` and its newline.

        Raises:
            OSError: it could not be written whole; the file was cut back to its last whole line.
        """
        data = line.encode("ascii") + b"\n"
        if not self._fresh:  # an unfinished line from before a kill stays apart from ours
            data = b"\n" + data
        self._put(data)
        self._fresh = True

    def close(self) -> None:
        """Let go of the file.

        Raises:
            OSError: the system could not store what it had accepted.
        """
        os.close(self.descriptor)

    def _put(self, data: bytes) -> None:
        left = data
        try:
            while left:  # a signal or a nearly full disk: the rest may fit, or say why not
                left = left[self._write(self.descriptor, left) :]
        except OSError:
            self._cut_back(len(data) - len(left))
            raise

    def _cut_back(self, count: int) -> None:
        """Take the last `count` bytes away; others may have appended before, as titles are."""
        if not count:
            return
        with suppress(OSError):  # if it can't be cut, the next opening starts a fresh line
            os.ftruncate(self.descriptor, os.lseek(self.descriptor, 0, os.SEEK_END) - count)

    def _last_byte(self) -> bytes:
        os.lseek(self.descriptor, -1, os.SEEK_END)
        return os.read(self.descriptor, 1)
