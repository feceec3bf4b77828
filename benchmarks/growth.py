"""How cost grows: with the number of athletes, and with the length of the session.

What is live must cost the same for each athlete whoever else is there, and the last minute of a
six-hour session must cost what the first one did.
"""

import time
from collections.abc import Iterator
from itertools import pairwise

from benchmarks.crowd import crowd_events, crowd_head
from benchmarks.figure import Figure
from livemon.monitor.session import Session

RATE_HZ = 4.0
CLASSES = (1, 6, 24, 96, 200)
CLASS_S = 120.0
HOURS = (1 / 6, 1.0, 6.0)
#: How much dearer the last tenth of a session may be than the first: a quarter is noise and cache.
MOST_RATIO = 1.25


def us_each(athletes: int) -> float:
    """Return microseconds of processor time for each notification in a class of that size."""
    head = crowd_head(athletes, CLASS_S, RATE_HZ)
    events = list(crowd_events(athletes, CLASS_S, RATE_HZ))
    session = Session(head, each_tick=Session.snapshot)
    begun_s = time.process_time()
    for event in events:
        session.feed(event)
    return 1e6 * (time.process_time() - begun_s) / len(events)


def tenths_us(hours: float) -> tuple[float, ...]:
    """Return microseconds for each notification in every tenth of a session of one athlete."""
    seconds = hours * 3600.0
    head = crowd_head(1, seconds, RATE_HZ)
    session = Session(head, each_tick=Session.snapshot)
    events = list(crowd_events(1, seconds, RATE_HZ))
    edges = [len(events) * tenth // 10 for tenth in range(11)]
    spent = []
    for begin, end in pairwise(edges):
        begun_s = time.process_time()
        for event in events[begin:end]:
            session.feed(event)
        spent.append(1e6 * (time.process_time() - begun_s) / (end - begin))
    return tuple(spent)


def figures() -> Iterator[Figure]:
    """Measure both ways of growing."""
    alone = min(us_each(1) for _ in range(3))
    for athletes in CLASSES:
        each = min(us_each(athletes) for _ in range(3 if athletes < 96 else 1))
        yield Figure(
            f"{athletes} athletes: processor time a notification",
            each,
            "µs",
            beside=f"{each / alone:.2f} times that of one athlete",
            curve="growth-athletes",
            at=athletes,
        )
    for hours in HOURS:
        tenths = tenths_us(hours)
        yield Figure(
            f"{hours * 60:.0f} min of one athlete: processor time a notification in the last tenth",
            tenths[-1],
            "µs",
            curve="growth-minutes",
            at=60 * hours,
        )
        yield Figure(
            f"{hours * 60:.0f} min: last tenth beside the second",
            tenths[-1] / tenths[1],
            "times",
            at_most=MOST_RATIO,
            beside=f"{tenths[1]:.1f} and {tenths[-1]:.1f} µs a notification",
        )
