"""How many notifications a second go from bytes to snapshots on one core.

Processor time of the session alone, with a snapshot at each tick, twice a second. The floor is the
decoding of the same notifications and nothing else.
"""

import time
from collections.abc import Iterator

from benchmarks.crowd import crowd_events, crowd_head
from benchmarks.figure import Figure, median_of
from livemon.decode.dispatch import Decoders
from livemon.events import Event, Head, Notification
from livemon.monitor.session import Session

ATHLETES = 24
LEAST_PER_S = 60_000.0


def session_s(head: Head, events: list[Event]) -> float:
    """Feed everything to a fresh session; return seconds of processor time."""
    session = Session(head, each_tick=Session.snapshot)
    begun_s = time.process_time()
    for event in events:
        session.feed(event)
    return time.process_time() - begun_s


def decode_s(head: Head, events: list[Event]) -> float:
    """Only decode; return seconds of processor time."""
    decoders = Decoders(head.sensors, head.adapters)
    sites = {one.sensor: one.sites for one in head.assigned}
    notifications = [event for event in events if isinstance(event, Notification)]
    begun_s = time.process_time()
    for notification in notifications:
        decoders.decode(notification, sites=sites[notification.sensor])
    return time.process_time() - begun_s


def figures() -> Iterator[Figure]:
    """Measure at three rates of the oximeters."""
    for rate_hz, seconds in ((1.0, 300.0), (4.0, 200.0), (10.0, 100.0)):
        head = crowd_head(ATHLETES, seconds, rate_hz)
        events = list(crowd_events(ATHLETES, seconds, rate_hz))
        whole_s = median_of(lambda: session_s(head, events))  # noqa: B023 - called at once
        floor_s = median_of(lambda: decode_s(head, events))  # noqa: B023 - called at once
        yield Figure(
            f"{ATHLETES} athletes, two sites at {rate_hz:g} Hz: notifications a second",
            len(events) / whole_s,
            "1/s",
            at_least=LEAST_PER_S if rate_hz == 10.0 else None,
            beside=f"decoding alone {len(events) / floor_s:,.0f} 1/s; "
            f"{whole_s / floor_s:.1f} times the floor",
        )
        needed = whole_s / seconds
        yield Figure(f"share of one core for that class, live at {rate_hz:g} Hz", 100 * needed, "%")
