"""Bytes as they come from a file, cut into whole lines.

Only a newline byte ends a line. A line that never ends is not kept in memory: beyond a limit its
bytes are dropped, and it is handed out as None. Nothing here knows what a line says.
"""

from collections.abc import Iterator
from typing import BinaryIO, Final

#: A head with a dozen adapters takes some 30 kB, a notification 80 bytes.
LONGEST_LINE_BYTES: Final = 4_000_000

#: Large enough that reading is not what takes the time, small enough to stay in the cache.
_CHUNK_BYTES: Final = 256 * 1024


class LineCutter:
    """Takes chunks of bytes, gives whole lines; keeps the unfinished rest."""

    __slots__ = ("_longest", "_too_long", "rest")

    def __init__(self, longest_bytes: int = LONGEST_LINE_BYTES) -> None:
        self._longest = longest_bytes
        self._too_long = False
        self.rest = b""  #: what stands behind the last newline

    def cut(self, chunk: bytes) -> list[bytes | None]:
        """Return the lines that `chunk` completes, without newline; None for one too long."""
        lines: list[bytes | None] = [*(self.rest + chunk).split(b"\n")]
        self.rest = lines.pop() or b""
        if self._too_long and lines:
            self._too_long, lines[0] = False, None
        if len(self.rest) > self._longest:
            self._too_long, self.rest = True, b""
        return lines


def lines_of(file: BinaryIO, cutter: LineCutter) -> Iterator[bytes | None]:
    """Yield the whole lines of `file` up to its present end; `cutter` keeps the rest."""
    for lines in batches_of(file, cutter):
        yield from lines


def batches_of(file: BinaryIO, cutter: LineCutter) -> Iterator[list[bytes | None]]:
    """Yield the same lines some thousands at a time, for whoever passes over most of them."""
    while chunk := file.read(_CHUNK_BYTES):
        yield cutter.cut(chunk)
