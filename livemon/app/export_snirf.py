"""Where SNIRF goes: one file, or a folder with a file for each athlete."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from livemon.app.export_place import fresh_file, fresh_folder
from livemon.errors import UsageError
from livemon.exchange.gather import Gathered
from livemon.exchange.snirf import snirf_image
from livemon.exchange.snirf_parts import Subject
from livemon.exchange.snirf_subject import subjects_of
from livemon.exchange.snirf_write import snirf_library

SUFFIX: Final = ".snirf"


@contextmanager
def snirf_folder(path: Path, begun: str, *, even: bool, overwrite: bool) -> Iterator[Gathered]:
    """Gather rows; then write a file for each athlete into the new folder `path`."""
    snirf_library()
    with fresh_folder(path, SUFFIX, overwrite=overwrite) as folder:
        yield (gathered := Gathered())
        for number, subject in enumerate(_subjects(gathered, even=even), start=1):
            # Numbered: an id may hold what no file name can.
            place = folder / f"athlete-{number:02}{SUFFIX}"
            place.write_bytes(snirf_image((subject,), begun))


@contextmanager
def snirf_file(path: Path, begun: str, *, even: bool, overwrite: bool) -> Iterator[Gathered]:
    """Gather rows; then write everybody into the new file `path`."""
    snirf_library()
    with fresh_file(path, overwrite=overwrite) as fresh:
        yield (gathered := Gathered())
        fresh.write_bytes(snirf_image(_subjects(gathered, even=even), begun))


def _subjects(gathered: Gathered, *, even: bool) -> tuple[Subject, ...]:
    subjects = subjects_of(gathered, even=even)
    if not subjects:
        needs = "total haemoglobin" if even else "muscle oxygenation"
        raise UsageError(f"nobody asked for has {needs}, which SNIRF is for; CSV takes the rest.")
    return subjects
