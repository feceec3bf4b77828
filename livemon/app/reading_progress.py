"""Show on a terminal how far a long recording has been read."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager


@contextmanager
def progress_of(name: str) -> Iterator[Callable[[float], None]]:
    """Give what is to be told of the share that was read; the line is wiped at the end.

    Into a file or a pipe nothing is written, and nothing about files that take no time.
    """
    if not sys.stderr.isatty():
        yield lambda share: None
        return
    last, width = -1, 0

    def told(share: float) -> None:
        nonlocal last, width
        percent = int(share * 100)
        if percent not in (last, 100):
            line = f"Reading {name}: {percent} %"
            last, width = percent, len(line)
            print(f"\r{line}", end="", file=sys.stderr, flush=True)

    try:
        yield told
    finally:
        if width:
            print(f"\r{' ' * width}\r", end="", file=sys.stderr, flush=True)
