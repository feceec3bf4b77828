"""What the live session told about a recording, for many athletes in several processes at once."""

from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from typing import Final

from livemon.app.export_share import Share, shares_of
from livemon.monitor.session import Session, Told
from livemon.record.reader import Recording, open_recording

#: Below this a recording replays in about a second, which starting processes takes, too.
_LARGE_BYTES: Final = 4_000_000


class Telling:
    """Replays a recording; begins at once, beside whatever else is done, where it takes long.

    Args:
        recording: which is read again by each process.
        only: ids or names of the athletes who are asked for; empty for everybody.
        processes: how many at most; with one, nothing is done before it is asked for.
        large_bytes: size of a file from which several are worth their start.
    """

    __slots__ = ("_later", "_path", "_pool", "_shares")

    def __init__(
        self,
        recording: Recording,
        only: frozenset[str],
        *,
        processes: int,
        large_bytes: int = _LARGE_BYTES,
    ) -> None:
        head, self._path = recording.head, recording.path
        asked = tuple(
            one.athlete
            for one in head.athletes
            if not only or one.athlete in only or one.name in only
        )
        self._shares = shares_of(head, asked, processes)
        large = self._path.stat().st_size > large_bytes and len(self._shares) > 1
        # "spawn" is the same on every system, and forks no threads of a window.
        context = get_context("spawn")
        self._pool = ProcessPoolExecutor(len(self._shares), context) if large else None
        self._later = (
            [self._pool.submit(told_of, self._path, share) for share in self._shares]
            if self._pool
            else []
        )

    def told(self) -> list[Told]:
        """Return what was told, in order of time for each athlete.

        Raises:
            RecordingError: the recording can't be read any more.
        """
        if self._pool is None:
            return [told for share in self._shares for told in told_of(self._path, share)]
        return [told for later in self._later for told in later.result()]

    def close(self) -> None:
        """End the processes."""
        if self._pool is not None:
            self._pool.shutdown(cancel_futures=True)


def told_of(path: Path, share: Share) -> list[Told]:
    """Replay the part of the recording at `path` that is about `share`.

    Raises:
        RecordingError: it can't be read.
    """
    recording = open_recording(path)
    part = share.part(recording.head)
    session = Session(part.head)
    told: list[Told] = []
    end_ns = 0
    for event in recording.events():
        end_ns = max(end_ns, event.t_ns)
        own = part.own(event)
        if own is not None:
            told += session.feed(own)
    told += session.advance(end_ns)  # others' last events let time pass, too
    return told
