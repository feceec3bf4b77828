"""Summaries kept in SQLite, so that a list of a year's recordings appears at once.

The files are the truth. An index that is missing, damaged, of another version or on a full disk
costs time and nothing else: it is made anew, or done without.
"""

import sqlite3
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import Final

from livemon.record.summary import Summary, summary_from, summary_text

#: Raised whenever a summary changes its shape.
_VERSION: Final = 1

_MAKE: Final = """
CREATE TABLE summary (
    file TEXT PRIMARY KEY,
    size_bytes INTEGER NOT NULL,
    changed_ns INTEGER NOT NULL,
    summary TEXT NOT NULL
) WITHOUT ROWID
"""


class Index:
    """The summaries of the files in one folder."""

    __slots__ = ("_base",)

    def __init__(self, path: Path) -> None:
        self._base = _opened(path)

    def known(self, file: str, size_bytes: int, changed_ns: int) -> Summary | None:
        """Return the summary of a file, if it has not changed since it was kept."""
        rows: list[tuple[str]] = []
        with suppress(sqlite3.Error):
            rows = self._base.execute(
                "SELECT summary FROM summary WHERE file = ? AND size_bytes = ? AND changed_ns = ?",
                (file, size_bytes, changed_ns),
            ).fetchall()
        try:
            return summary_from(rows[0][0]) if rows else None
        except (ValueError, TypeError, KeyError):
            return None

    def keep(self, summary: Summary, changed_ns: int) -> None:
        """Keep the summary of a file that was last changed at `changed_ns`."""
        row = summary.file, summary.size_bytes, changed_ns, summary_text(summary)
        with suppress(sqlite3.Error), self._base:
            self._base.execute("INSERT OR REPLACE INTO summary VALUES (?, ?, ?, ?)", row)

    def forget_all_but(self, files: Iterable[str]) -> None:
        """Drop the summaries of files that are not there any more."""
        there = set(files)
        with suppress(sqlite3.Error), self._base:
            kept = [row[0] for row in self._base.execute("SELECT file FROM summary")]
            gone = [(file,) for file in kept if file not in there]
            self._base.executemany("DELETE FROM summary WHERE file = ?", gone)

    def close(self) -> None:
        """Let go of the file."""
        self._base.close()


def _opened(path: Path) -> sqlite3.Connection:
    """Open or make the index at `path`; in memory if the place can't be used."""
    for attempt in (path, path, ":memory:"):
        try:
            return _prepared(attempt)
        except sqlite3.DatabaseError:
            with suppress(OSError):
                path.unlink()  # damaged: the second attempt begins anew
    raise AssertionError("SQLite can't even keep a table in memory")


def _prepared(place: Path | str) -> sqlite3.Connection:
    base = sqlite3.connect(place, timeout=1.0)
    try:
        if base.execute("PRAGMA user_version").fetchone() != (_VERSION,):
            with base:
                base.execute("DROP TABLE IF EXISTS summary")
                base.execute(_MAKE)
                base.execute(f"PRAGMA user_version = {_VERSION}")
        if base.execute("PRAGMA quick_check").fetchone() != ("ok",):
            raise sqlite3.DatabaseError("damaged")
    except sqlite3.Error:
        base.close()
        raise
    return base
