"""Say on long work how far it is."""

import time
from collections.abc import Callable, Iterator
from typing import Final

from livemon.events import Event
from livemon.tongue import said_n

_LOOK_EVERY: Final = 20_000  # events: some tenths of a second
_SAY_EVERY_S: Final = 2.0  # nobody wonders before that
_NS_PER_MIN: Final = 60_000_000_000


def told_progress(
    events: Iterator[Event],
    say: Callable[[str], object],
    now_s: Callable[[], float] = time.monotonic,
) -> Iterator[Event]:
    """Pass events on; say now and then how much of the session has been read."""
    said_s = now_s()
    for number, event in enumerate(events, start=1):
        yield event
        if number % _LOOK_EVERY == 0 and now_s() - said_s > _SAY_EVERY_S:
            said_s = now_s()
            say(
                said_n(
                    "{minutes} min of the session read, {n} event",
                    "{minutes} min of the session read, {n} events",
                    number, n=f"{number:,}", minutes=event.t_ns // _NS_PER_MIN,
                )
            )  # fmt: skip
