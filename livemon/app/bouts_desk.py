"""Read recordings and analyse them in a thread of its own; keep late corrections.

One athlete is read at a time, so that three hours of a class need no more memory than one of them.

The window polls `latest`, which is one immutable object: no lock, no signal, no waiting.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from queue import SimpleQueue
from threading import Event, Thread

from livemon.app.bouts_correct import checked_entry, correct_bout
from livemon.app.bouts_export import check_place, export_athlete
from livemon.app.bouts_read import Meanwhile, Reading, names_in, read_athlete
from livemon.errors import LivemonError, UsageError
from livemon.record.reader import open_recording
from livemon.tongue import said
from livemon.view.bouts_commands import BoutEntry, BoutsState
from livemon.view.bouts_source import BoutKey, BoutsSession

#: Reading rests so long, for the picture of the first bout to be drawn: both want the one lock
#: that Python has, and the picture was seen a second later without it.
_LET_DRAW_S = 0.3


@dataclass(frozen=True, slots=True)
class BoutsWish:
    """Which recordings, whose bouts, and which sites rest.

    Attributes:
        growing: a live session writes them just now; they are only read.
    """

    paths: tuple[Path, ...]
    athlete: str | None = None
    resting: frozenset[str] = frozenset()
    growing: bool = False


class BoutsDesk:
    """Carries out what the Bouts page asks for."""

    def __init__(self, wish: BoutsWish) -> None:
        self._wish = wish
        self._athlete = wish.athlete or ""
        self._state = BoutsState((), said("Reading …"), 0, len(wish.paths))
        self._readings: dict[str, Reading] = {}
        self._tasks: SimpleQueue[Callable[[], None] | None] = SimpleQueue()
        self._stopping = Event()
        self._thread = Thread(target=self._work, name="bouts", daemon=True)

    def start(self) -> None:
        """Begin to read."""
        self._tasks.put(self._look_in)
        self._tasks.put(lambda: self._read_all(self._athlete))
        self._thread.start()

    def latest(self) -> BoutsState:
        """Return the newest state."""
        return self._state

    def choose(self, athlete: str) -> None:
        """Leave off what is being read and read this athlete's bouts."""
        if athlete != self._athlete:
            self._athlete = athlete
            self._tasks.put(lambda: self._read_all(athlete))

    def correct(self, key: BoutKey, entry: BoutEntry) -> None:
        """Append a correction and read that recording again.

        Raises:
            UsageError: something that was entered can't be used, or the session still runs.
        """
        if self._wish.growing:  # two who write into one file would spoil each other's lines
            raise UsageError(
                said("the session still runs: press M in its window, or correct it after")
            )
        checked = checked_entry(entry)
        if checked:
            self._tasks.put(lambda: self._correct(key, checked))

    def export(self, key: BoutKey, path: Path) -> None:
        """Write what the bout's recording holds of the athlete to a new file.

        Raises:
            UsageError: something is there already, or the name says no format.
        """
        check_place(path)
        self._tasks.put(lambda: self._export(key, path))

    def wait(self, longest_s: float = 60.0) -> bool:
        """Return once all that was asked for until now is done, or False when it takes longer."""
        reached = Event()
        self._tasks.put(reached.set)
        return reached.wait(longest_s)

    def stop(self) -> None:
        """Let go of the recordings; what is being written is finished first.

        Beside a live session nobody waits: its own window stands still meanwhile.
        """
        self._stopping.set()
        self._tasks.put(None)
        if not self._wish.growing:
            self.join()

    def join(self) -> None:
        """Return once nothing is running any more."""
        if self._thread.is_alive():
            self._thread.join()

    def _work(self) -> None:
        while (task := self._tasks.get()) is not None:
            try:
                task()
            except LivemonError as error:
                self._state = replace(self._settled(), troubles=(*self._state.troubles, str(error)))

    def _look_in(self) -> None:
        """Find out who is in the recordings; each says so at its head."""
        names: dict[str, str] = {}  # to the id where they are met first
        for path in self._wish.paths:
            try:
                head = open_recording(path).head
            except LivemonError:
                continue  # told when it is read
            for name, one in zip(names_in(head), head.athletes, strict=True):
                names.setdefault(name, one.athlete)
        by_id = {one: name for name, one in names.items()}
        if not self._athlete or (self._athlete not in names and self._athlete in by_id):
            self._athlete = by_id.get(self._athlete, next(iter(names), ""))
        self._state = replace(self._state, athletes=tuple(names))

    def _read_all(self, athlete: str) -> None:
        if self._to_leave(athlete):
            return
        self._readings = {}
        self._state = replace(self._state, sessions=(), athlete=athlete, troubles=())
        for done, path in enumerate(self._wish.paths):
            if self._to_leave(athlete):
                return
            self._state = replace(
                self._state, doing=said("Reading {file}", file=path.name), done=done, share=0.0
            )
            self._read(path, athlete)
        self._state = replace(self._settled(), done=len(self._wish.paths), share=0.0)

    def _to_leave(self, athlete: str) -> bool:
        return self._stopping.is_set() or self._athlete != athlete

    def _read(self, path: Path, athlete: str) -> None:
        meanwhile = Meanwhile(lambda: self._to_leave(athlete), self._passed, self._show_first)
        try:
            found = read_athlete(path, athlete or None, self._wish.resting, meanwhile)
        except LivemonError as error:
            self._state = replace(self._state, troubles=(*self._state.troubles, str(error)))
            return
        if found is None:
            return
        self._readings[found.session.recording] = found
        state = self._state
        self._state = replace(
            state,
            sessions=tuple(r.session for r in self._readings.values()),
            troubles=state.troubles + ((found.trouble,) if found.trouble else ()),
            athletes=tuple(dict.fromkeys((*state.athletes, *found.joined))),
        )

    def _passed(self, share: float) -> None:
        self._state = replace(self._state, share=share)

    def _show_first(self, session: BoutsSession) -> None:
        """Show a first bout while the rest is read, where nothing better is to be seen."""
        if not self._readings:
            self._state = replace(self._state, sessions=(session,))
            self._stopping.wait(_LET_DRAW_S)

    def _correct(self, key: BoutKey, entered: Sequence[tuple[str, dict[str, str]]]) -> None:
        reading = self._readings.get(key.recording)
        if reading is None:
            return
        self._state = replace(self._state, doing=said("Keeping the correction"), done=0)
        correct_bout(reading.path, reading.athlete, key.number, entered)
        self._read(reading.path, self._athlete)
        self._state = self._settled()

    def _export(self, key: BoutKey, path: Path) -> None:
        reading = self._readings.get(key.recording)
        if reading is None:
            return

        def told(words: str) -> None:
            doing = said("Exporting {file}: {rows}", file=path.name, rows=words)
            self._state = replace(self._state, doing=doing)

        begun = said("Exporting {file}", file=path.name)
        self._state = replace(self._state, doing=begun, troubles=(), said="")
        wrote = export_athlete(reading.path, reading.athlete, path, told)
        self._state = replace(self._settled(), said=wrote)

    def _settled(self) -> BoutsState:
        return replace(self._state, doing="")


def sessions_of(wish: BoutsWish) -> tuple[BoutsSession, ...]:
    """Read everything at once, for those who wait.

    Raises:
        RecordingError: a recording can't be read.
        UsageError: the athlete isn't in it.
    """
    found = [read_athlete(path, wish.athlete, wish.resting, Meanwhile()) for path in wish.paths]
    return tuple(reading.session for reading in found if reading is not None)
