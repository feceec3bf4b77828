"""Write a file that people asked for: the whole of it or nothing, and over nothing unasked."""

from collections.abc import Callable
from pathlib import Path

from livemon.errors import UsageError


def write_new(path: Path, content: str, *, replace: bool) -> None:
    """Write `content` to `path`.

    Raises:
        UsageError: the file is there and is not to be replaced, or it can't be written.
    """

    def text(fresh: Path) -> None:
        fresh.write_text(content, encoding="utf-8", newline="\n")

    write_new_by(path, text, replace=replace)


def write_new_by(path: Path, write: Callable[[Path], None], *, replace: bool) -> None:
    """Let `write` make the file beside its place, then move it there.

    Raises:
        UsageError: the file is there and is not to be replaced, or it can't be written.
    """
    if path.exists() and not replace:
        raise UsageError(f"{path} is there already; --replace writes over it.")
    fresh = path.with_name(f"{path.name}.new")
    try:
        write(fresh)
        fresh.replace(path)
    except OSError as error:
        raise UsageError(f"{path} can't be written: {error.strerror or error}.") from error
