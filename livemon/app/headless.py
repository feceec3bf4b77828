"""A recording turned into lines, without a screen: for pipes, scripts and comparisons."""

from collections.abc import Callable, Iterator

from livemon.events import Event, Head
from livemon.monitor.payload import change_line, snapshot_line
from livemon.monitor.session import Session


def changes_of(head: Head, events: Iterator[Event]) -> Iterator[str]:
    """Yield a JSON line for every change, as the session is replayed at full speed."""
    session = Session(head)
    for event in events:
        for athlete, change in session.feed(event):
            yield change_line(athlete, change)


def snapshots_of(head: Head, events: Iterator[Event]) -> Iterator[str]:
    """Yield a JSON line for the state at every tick: what two runs must have in common."""
    lines: list[str] = []
    session = Session(head, each_tick=lambda at: lines.append(snapshot_line(at.snapshot())))
    for event in events:
        session.feed(event)
        yield from lines
        lines.clear()


def printed(lines: Iterator[str], write: Callable[[str], object]) -> None:
    """Write each line with its end."""
    for line in lines:
        write(f"{line}\n")
