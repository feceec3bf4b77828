"""Two recordings of one session made into a third: after a crash, or from two machines.

The later one's times are moved by the difference of their starts by the wall clock, or by what
the caller knows better: wall clocks of two machines can be seconds apart. The originals stay.
"""

from collections.abc import Iterator
from datetime import datetime
from heapq import merge
from pathlib import Path
from typing import Final

from livemon.errors import UsageError
from livemon.events import End, Event, Gap, Head, Mark
from livemon.record.at_once import write_recording
from livemon.record.moved import moved
from livemon.record.place import new_path
from livemon.record.reader import Recording, open_recording

_NS_PER_S: Final = 1_000_000_000


def join(first: Path, second: Path, folder: Path, *, offset_s: float | None = None) -> Path:
    """Write both recordings into a new one in `folder`; return its path.

    `offset_s` is the time from the start of `first` to the start of `second`, where it is known
    better than by their wall clocks; it is negative if `second` began before.

    Raises:
        RecordingError: one can't be read, the new one can't be written, or is there already.
        UsageError: they are the same file, or their starts can't be compared.
    """
    if first.resolve() == second.resolve():
        raise UsageError("these are one and the same recording; give two")
    one, two = open_recording(first), open_recording(second)
    offset_ns = _offset_ns(one.head, two.head) if offset_s is None else round(offset_s * _NS_PER_S)
    if offset_ns < 0:
        one, two, offset_ns = two, one, -offset_ns
    path = new_path(folder, one.head.started_utc, f"{one.head.session}+{two.head.session}")
    write_recording(path, one.head, _joined(one, two, offset_ns))
    return path


def _offset_ns(one: Head, two: Head) -> int:
    try:
        apart = datetime.fromisoformat(two.started_utc) - datetime.fromisoformat(one.started_utc)
    except (ValueError, TypeError) as error:  # no moment, or only one of them with a time zone
        raise UsageError(
            f"the starts {one.started_utc!r} and {two.started_utc!r} can't be compared; "
            "say how many seconds apart they are"
        ) from error
    return round(apart.total_seconds() * _NS_PER_S)


def _joined(one: Recording, two: Recording, offset_ns: int) -> Iterator[Event]:
    """Yield all events by time; what both hold, once; and one end, where the last event is."""
    marks = {event.mark: event for event in one.events() if isinstance(event, Mark)}
    last_ns = max((event.t_ns for event in one.events()), default=0)
    between: tuple[Event, ...] = ()
    if offset_ns > last_ns:  # nobody was watching
        between = (Gap(offset_ns, offset_ns - last_ns, "between two recordings"),)
    sources = one.events(), iter(between), moved(two, offset_ns, marks)
    at_this_time: list[Event] = []
    t_ns = 0
    for event in merge(*sources, key=lambda event: event.t_ns):
        if event.t_ns != t_ns:
            t_ns, at_this_time = event.t_ns, []
        if isinstance(event, End) or event in at_this_time:
            continue
        at_this_time.append(event)
        yield event
    yield End(t_ns)
