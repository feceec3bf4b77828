"""A recording in Python: its tables as numpy arrays, as pandas or polars frames where installed."""

from functools import cached_property
from pathlib import Path
from typing import Any

from livemon.app.export_replay import Telling
from livemon.exchange.columns import Columns
from livemon.exchange.gather import Gathered
from livemon.exchange.rows import Wish, rows_of
from livemon.exchange.tables import (
    BATTERY,
    BOUTS,
    HEART_RATE,
    INTENSITY,
    MARKS,
    OXYGENATION,
    RR_INTERVALS,
    SPO2,
    TABLES,
    WARNINGS,
)
from livemon.record.reader import Recording
from livemon.record.reader import open_recording as open_file


def open_recording(path: str | Path, *, names: bool = False) -> "OpenedRecording":
    """Open the recording at `path`.

    Args:
        path: of the file.
        names: whether the tables hold names and notes, too.

    Raises:
        RecordingError: there is no such file, it can't be read, or it is not a recording.
    """
    return OpenedRecording(open_file(path), names=names)


class OpenedRecording:
    """A recording's tables, read when one is first asked for.

    Readings are all there, also those that the live session did not use; `Columns.used` leaves
    those out. Units stand in the columns' names and in `Columns.units`.
    """

    def __init__(self, recording: Recording, *, names: bool) -> None:
        self._recording, self._names = recording, names

    def __repr__(self) -> str:
        """Return the file and when it began."""
        return f"<recording {self._recording.path.name}, started {self.started_utc}>"

    @property
    def started_utc(self) -> str:
        """Wall clock at the session's beginning, ISO 8601 with offset."""
        return self._recording.head.started_utc

    @property
    def athletes(self) -> tuple[str, ...]:
        """Ids of the athletes who were there at the start."""
        return tuple(athlete.athlete for athlete in self._recording.head.athletes)

    @property
    def problems(self) -> str:
        """What could not be read, in words; empty if nothing, and before a table was asked for."""
        return self._recording.problems.words()

    @property
    def oxygenation(self) -> Columns:
        """Readings of muscle oximeters: `site`, `smo2_pct` in %, `thb`, ..."""
        return self._gathered.columns(OXYGENATION)

    @property
    def heart_rate(self) -> Columns:
        """Readings of straps: `bpm`, ..."""
        return self._gathered.columns(HEART_RATE)

    @property
    def rr_intervals(self) -> Columns:
        """Times between beats: `rr_s` in s."""
        return self._gathered.columns(RR_INTERVALS)

    @property
    def intensity(self) -> Columns:
        """Power in W, speed in m/s and the like, from sensors and machines."""
        return self._gathered.columns(INTENSITY)

    @property
    def spo2(self) -> Columns:
        """Readings of pulse oximeters, `spo2_pct` in %: arterial, not of a muscle."""
        return self._gathered.columns(SPO2)

    @property
    def battery(self) -> Columns:
        """Charge of the sensors, `battery_pct` in %."""
        return self._gathered.columns(BATTERY)

    @property
    def bouts(self) -> Columns:
        """Bouts, recoveries and warm-ups: `start_s`, `end_s`, `phase`, `work`, ..."""
        return self._gathered.columns(BOUTS)

    @property
    def marks(self) -> Columns:
        """What was marked: `kind`, `key`, `value`, `words`."""
        return self._gathered.columns(MARKS)

    @property
    def warnings(self) -> Columns:
        """Drain warnings, as the live session gave them: `start_s`, `end_s`, `site`, ..."""
        return self._gathered.columns(WARNINGS)

    def tables(self) -> dict[str, Columns]:
        """Return all tables by name."""
        return {table.name: self._gathered.columns(table) for table in TABLES}

    def to_pandas(self) -> dict[str, Any]:
        """Return a pandas DataFrame for each table.

        Raises:
            UsageError: pandas isn't installed.
        """
        return {name: columns.to_pandas() for name, columns in self.tables().items()}

    def to_polars(self) -> dict[str, Any]:
        """Return a polars DataFrame for each table.

        Raises:
            UsageError: polars isn't installed.
        """
        return {name: columns.to_polars() for name, columns in self.tables().items()}

    @cached_property
    def _gathered(self) -> Gathered:
        recording, gathered = self._recording, Gathered()
        # Processes of its own would start the caller's script afresh, unless it is guarded.
        telling = Telling(recording, frozenset(), processes=1)
        for table, row in rows_of(
            recording.head, recording.events(), Wish(names=self._names), telling.told
        ):
            gathered.put(table, row)
        return gathered
