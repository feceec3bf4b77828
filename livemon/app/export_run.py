"""Export a recording: read it once, and write its rows wherever they are wanted."""

import os
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, closing
from dataclasses import dataclass
from pathlib import Path

from livemon.app.export_progress import told_progress
from livemon.app.export_replay import Telling
from livemon.errors import UsageError
from livemon.exchange.rows import Wish, rows_of
from livemon.exchange.sink import Sink
from livemon.record.counted import counted
from livemon.record.reader import Recording

#: Makes the place and what writes there; the place appears when the `with` ends well.
OpenSink = Callable[[], AbstractContextManager[Sink]]


@dataclass(frozen=True, slots=True)
class Exported:
    """What was written.

    Attributes:
        path: the file or folder.
        rows: how many, by table.
        trouble: what could not be read, in words; empty if nothing.
    """

    path: Path
    rows: dict[str, int]
    trouble: str


def export(
    recording: Recording,
    wish: Wish,
    path: Path,
    open_sink: OpenSink,
    progress: Callable[[str], object],
    *,
    processes: int | None = None,
) -> Exported:
    """Write the rows of `recording` that `wish` asks for.

    At most so many `processes` help; None takes as many as there are cores.

    Raises:
        UsageError: nobody is called so, there is nothing to export, or it can't be written.
        RecordingError: the recording can't be read.
    """
    counted: dict[str, int] = {}
    with (
        closing(
            Telling(recording, wish.only, processes=processes or os.cpu_count() or 1)
        ) as telling,
        open_sink() as sink,
    ):
        events = told_progress(recording.events(), progress)
        for table, row in rows_of(recording.head, events, wish, telling.told):
            counted[table.name] = counted.get(table.name, 0) + 1
            sink.put(table, row)
        if not counted:
            raise UsageError(f"{recording.path} holds nothing to export.")
        sink.close()
    return Exported(path, counted, recording.problems.words())


def rows_in_words(rows: dict[str, int]) -> Iterator[str]:
    """Yield a phrase for each table; its name is a plural where it ends in s."""
    for name, count in rows.items():
        words = name.replace("_", " ")
        one = words.removesuffix("s")
        yield f"{count:,} {words}" if one == words else counted(count, one)
