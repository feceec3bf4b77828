"""A warning may come on with a reading, before the next tick: it is told all the same."""

import random

from sound_oximeter import ADAPTER, OXIMETER

from livemon.decode.adapter import parse_adapter
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.events import Assigned, Athlete, Event, Head, Notification, Sensor
from livemon.monitor.changes import WarningOn
from livemon.monitor.session import Session, Told

TENTHS = ADAPTER + "scale = { d = -1 }\n"
S = 1_000_000_000
OFF_NS = 60_000_000  #: each reading comes so long after a second; its athlete's clock began with it


def readings() -> list[Event]:
    """Heart rate level at 150; SmO2 level at 60 % for three minutes, then down by 12 %/min."""
    adapter, chance = parse_adapter(TENTHS, where="tenths"), random.Random(1)
    events: list[Event] = []
    for second in range(240):
        t_ns = second * S + OFF_NS
        pct = 60 - 0.2 * max(second - 180, 0) + chance.gauss(0.0, 0.3)
        bpm = bytes((0, 150 + second % 2))
        events.append(Notification(t_ns, "strap", HEART_RATE_MEASUREMENT, bpm))
        packet = adapter.encode({"smo2": round(pct, 1)})
        events.append(Notification(t_ns, "ox", adapter.characteristic, packet))
    return events


def told_by(session: Session, events: list[Event]) -> list[Told]:
    return [told for event in events for told in session.feed(event)]


def session_with(athlete: str | None) -> Session:
    return Session(
        Head(
            "2026-11-25T10:00:00+00:00",
            "s",
            athletes=(Athlete("a1", "Ada"),),
            sensors=(Sensor("strap", "strap"), OXIMETER),
            adapters=(("one-number", TENTHS),),
            assigned=(Assigned(0, "strap", "a1"), Assigned(0, "ox", athlete, ("left thigh",))),
        )
    )


def test_a_warning_that_a_reading_brings_on_is_told_with_whose_it_is() -> None:
    told = told_by(session_with("a1"), readings())

    ((name, change),) = told
    assert name == "a1"
    assert isinstance(change, WarningOn)
    assert change.site == "left thigh"
    assert 190 < change.t_s < 230
    assert round(change.t_s % 1, 6) == OFF_NS / S  # of the reading, not of a tick


def test_readings_of_an_oximeter_that_nobody_wears_warn_nobody() -> None:
    assert told_by(session_with(None), readings()) == []
