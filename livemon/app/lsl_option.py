"""`--lsl`: a session, live or replayed, as streams of the Lab Streaming Layer."""

import argparse
from collections.abc import Callable
from typing import Final

from livemon.app.live_ends import Recorder
from livemon.app.lsl_feed import LslFeed
from livemon.events import Event, Head
from livemon.exchange.lsl_markers import Markers
from livemon.exchange.lsl_outlets import Outlets
from livemon.exchange.lsl_streams import Origin, ReadingStreams
from livemon.monitor.session import Told
from livemon.record.side_lines import SideLine

_NS_PER_S: Final = 1e9


def add_lsl_options(parser: argparse.ArgumentParser) -> None:
    """Add whether streams are sent, and whether with names."""
    parser.add_argument(
        "--lsl",
        action="store_true",
        help="send readings, marks and warnings to the local network as Lab Streaming Layer "
        "streams, without names (docs/lsl.md)",
    )
    parser.add_argument(
        "--lsl-names", action="store_true", help="the same with athletes' names and free texts"
    )


def live_lsl(
    arguments: argparse.Namespace, head: Head, now_ns: Callable[[], int]
) -> LslFeed | None:
    """Return what sends a live session, started; None where that was not asked for.

    Raises:
        UsageError: the library is missing, or no stream can be opened.
    """
    if not wanted(arguments):
        return None
    outlets = Outlets()
    zero_s = outlets.clock_s() - now_ns() / _NS_PER_S
    return _started(arguments, head, outlets, lambda t_ns: zero_s + t_ns / _NS_PER_S)


def replay_lsl(arguments: argparse.Namespace, head: Head) -> LslFeed | None:
    """Return what sends a recording as it is played again, stamped with the moment of sending.

    Raises:
        UsageError: the library is missing, or no stream can be opened.
    """
    if not wanted(arguments):
        return None
    outlets = Outlets()
    return _started(arguments, head, outlets, lambda _: outlets.clock_s(), replayed=True)


def wanted(arguments: argparse.Namespace) -> bool:
    """Say whether streams are asked for."""
    return bool(arguments.lsl or arguments.lsl_names)


class HeardToo:
    """A recorder that lets LSL hear what it writes down; `journal` is None if nothing is."""

    def __init__(self, journal: Recorder | None, lsl: LslFeed) -> None:
        self._journal, self._lsl = journal, lsl

    def append(self, event: Event, *, now_s: float) -> None:
        """Write `event` down, then let it be sent."""
        if self._journal is not None:
            self._journal.append(event, now_s=now_s)
        self._lsl.heard(event)

    def note(self, side: SideLine, *, now_s: float) -> None:
        """Write down what is no event."""
        if self._journal is not None:
            self._journal.note(side, now_s=now_s)

    def tick(self, *, now_s: float) -> None:
        """Look after the file."""
        if self._journal is not None:
            self._journal.tick(now_s=now_s)

    def close(self, *, now_s: float) -> None:
        """Put everything away."""
        if self._journal is not None:
            self._journal.close(now_s=now_s)


def heard_by(journal: Recorder | None, lsl: LslFeed | None) -> Recorder | None:
    """Return the recorder that a live session is to have."""
    return journal if lsl is None else HeardToo(journal, lsl)


def told_to(
    lsl: LslFeed | None, told: Callable[[tuple[Told, ...]], None] = lambda _: None
) -> Callable[[tuple[Told, ...]], None]:
    """Return what a session is to tell its changes to: `told`, and LSL where it is on."""
    if lsl is None:
        return told

    def both(changes: tuple[Told, ...]) -> None:
        told(changes)
        lsl.told(changes)

    return both


def _started(
    arguments: argparse.Namespace,
    head: Head,
    outlets: Outlets,
    stamp_s: Callable[[int], float],
    *,
    replayed: bool = False,
) -> LslFeed:
    origin = Origin(head.session, head.started_utc, replayed, arguments.lsl_names)
    feed = LslFeed(ReadingStreams(head, origin), Markers(origin), outlets, stamp_s)
    feed.start()
    return feed
