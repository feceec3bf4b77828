"""A class of any size as events: one invented session, done by everybody a moment apart.

Every athlete wears a strap (1 Hz) and two oximeters. Invented data.
"""

from collections.abc import Iterator
from dataclasses import replace
from heapq import merge

from livemon.events import Assigned, Athlete, Event, Head, LinkUp, Notification, Sensor
from livemon.synthetic.oximeter import Oximeter
from livemon.synthetic.sessions import OVER_THE_LINE, Training
from livemon.synthetic.training import events_of, head_of

#: Between one athlete's packets and the next one's; not a divisor of any sensor's period.
_APART_NS = 3_700_000


def training(seconds: float, rate_hz: float) -> Training:
    """Return the session, repeated until it is long enough, with oximeters of that rate."""
    once_s = sum(phase.seconds for phase in OVER_THE_LINE.phases)
    return replace(
        OVER_THE_LINE,
        phases=OVER_THE_LINE.phases * (int(seconds // once_s) + 1),
        oximeters=(Oximeter(rate_hz=rate_hz), Oximeter(rate_hz=rate_hz)),
    )


def crowd_head(athletes: int, seconds: float, rate_hz: float) -> Head:
    """Return who wears what."""
    one = head_of(training(seconds, rate_hz))
    return replace(
        one,
        athletes=tuple(
            Athlete(f"a{a}", f"Lane {a + 1}", one.athletes[0].band_bpm) for a in range(athletes)
        ),
        sensors=tuple(
            Sensor(f"{s.sensor}-{a}", s.name, s.adapter)
            for a in range(athletes)
            for s in one.sensors
        ),
        assigned=tuple(
            Assigned(0, f"{s.sensor}-{a}", f"a{a}", s.sites)
            for a in range(athletes)
            for s in one.assigned
        ),
    )


def crowd_events(athletes: int, seconds: float, rate_hz: float) -> Iterator[Event]:
    """Yield everybody's links and notifications in order of time, up to `seconds`."""
    end_ns = round(seconds * 1e9)
    one = [
        event
        for event in events_of(training(seconds, rate_hz), 7)
        if isinstance(event, LinkUp | Notification) and event.t_ns <= end_ns
    ]
    yield from merge(*(_of(one, a) for a in range(athletes)), key=lambda event: event.t_ns)


def _of(events: list[LinkUp | Notification], athlete: int) -> Iterator[Event]:
    for event in events:
        t_ns = event.t_ns + athlete * _APART_NS
        yield replace(event, t_ns=t_ns, sensor=f"{event.sensor}-{athlete}")
