"""Where an export goes: there as a whole or not at all, and over nothing unasked."""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from livemon.errors import UsageError
from livemon.record.disk import words


@contextmanager
def fresh_file(path: Path, *, overwrite: bool) -> Iterator[Path]:
    """Hand out the path to write to; what is there becomes `path` when the `with` ends well.

    Raises:
        UsageError: `path` is there already, or can't be written.
    """
    if path.is_dir():
        raise UsageError(f"{path} is a folder; name a file in it.")
    _refuse_what_is_there(path, overwrite=overwrite)
    part = path.with_name(f"{path.name}.part")
    with _told(path):
        part.unlink(missing_ok=True)  # left by a run that was killed
        try:
            yield part
            part.replace(path)
        finally:
            part.unlink(missing_ok=True)


@contextmanager
def fresh_folder(path: Path, suffix: str, *, overwrite: bool) -> Iterator[Path]:
    """Hand out a folder to write files to, all with `suffix`; it becomes `path` in the end.

    Raises:
        UsageError: `path` is there already, holds other things than an export, or can't be written.
    """
    if path.is_file():
        raise UsageError(f"{path} is a file; name a folder, or ask for --one-file.")
    _refuse_what_is_there(path, overwrite=overwrite)
    if path.is_dir() and any(one.suffix != suffix for one in path.iterdir()):
        raise UsageError(f"{path} holds other things than {suffix} files; take another folder.")
    part, old = path.with_name(f"{path.name}.part"), path.with_name(f"{path.name}.old")
    with _told(path):
        shutil.rmtree(part, ignore_errors=True)  # left by a run that was killed
        part.mkdir()
        try:
            yield part
            if path.is_dir():
                path.replace(old)
            part.replace(path)
        finally:
            shutil.rmtree(part, ignore_errors=True)
            shutil.rmtree(old, ignore_errors=True)


def _refuse_what_is_there(path: Path, *, overwrite: bool) -> None:
    if path.exists() and not overwrite:
        raise UsageError(f"{path} is there already; --overwrite writes over it.")


@contextmanager
def _told(path: Path) -> Iterator[None]:
    """Turn what the system says into words."""
    try:
        yield
    except OSError as error:
        raise UsageError(f"{path} can't be written: {words(error)}.") from error
