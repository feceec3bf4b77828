"""A relay's ids are its own, and names stay at home unless somebody says otherwise."""

import json
from dataclasses import asdict, replace

from livemon.app.relay_ids import OwnIds, relay_of
from livemon.events import (
    Assigned,
    Athlete,
    AthleteChanged,
    End,
    Head,
    LinkDown,
    Mark,
    Notification,
    Sensor,
    SensorAdded,
)
from livemon.record.head import encode_head
from livemon.record.lines import encode_event
from livemon.synthetic.sessions import TRAININGS
from livemon.synthetic.training import head_of

HEAD = Head(
    "2026-03-02T17:30:00+00:00",
    "s1",
    (Athlete("a1", "Ada"), Athlete("a2", "Ben")),
    (Sensor("strap", "Ada's strap"),),
    (),
    (Assigned(0, "strap", "a1"),),
)


def test_every_id_begins_with_the_relays() -> None:
    head = OwnIds("gym-1").head(HEAD)

    assert [athlete.athlete for athlete in head.athletes] == ["gym-1.a1", "gym-1.a2"]
    assert head.sensors[0].sensor == "gym-1.strap"
    assert head.assigned == (Assigned(0, "gym-1.strap", "gym-1.a1"),)
    assert relay_of("gym-1.a1") == "gym-1"
    assert relay_of("a1") == ""


def test_names_and_free_texts_are_nowhere_in_what_is_written() -> None:
    own = OwnIds("gym-1")
    written = encode_head(own.head(HEAD))
    for event in (
        AthleteChanged(1, Athlete("a3", "Ada")),
        SensorAdded(1, Sensor("s2", "Ada's oximeter")),
        LinkDown(1, "strap", "Ada's strap went away"),
        Mark(1, "m1", "a1", "note", (("text", "Ada is tired"),)),
        Mark(1, "m2", "a1", "Ada's kind", (("load_kg", 20.0),)),
    ):
        written += "".join(encode_event(one) for one in own.events(event))

    assert "Ada" not in written
    assert "Ben" not in written
    assert '"load_kg":20.0' in written


def test_they_stay_where_somebody_asks_for_it() -> None:
    own = OwnIds("gym-1", names=True)

    assert own.head(HEAD).athletes[0].name == "Ada"
    (mark,) = own.events(Mark(1, "m1", "a1", "note", (("text", "Ada is tired"),)))
    assert mark.details == (("text", "Ada is tired"),)


def test_what_was_done_stays() -> None:
    details = (("work", "rowing"), ("planned_s", 240.0), ("rpe_cr10", "•"))

    (mark,) = OwnIds("g").events(Mark(1, "m1", "a1", "bout_start", details, at_ns=0))

    assert mark == Mark(1, "g.m1.a1", "g.a1", "bout_start", details, at_ns=0)


def test_a_mark_for_everybody_is_one_for_each_of_its_own() -> None:
    own = OwnIds("g")
    own.head(HEAD)
    own.events(AthleteChanged(1, Athlete("a3", "")))

    marks = own.events(Mark(2, "m2", None, "rpe", (("bout", "m1"),), replaces="m0"))

    assert [(m.mark, m.athlete, m.replaces, dict(m.details)["bout"]) for m in marks] == [
        (f"g.m2.{a}", f"g.{a}", f"g.m0.{a}", f"g.m1.{a}") for a in ("a1", "a2", "a3")
    ]


def test_readings_and_times_stay_as_they_are() -> None:
    event = Notification(123, "strap", "00002a37-0000-1000-8000-00805f9b34fb", b"\x06\x3c")

    assert OwnIds("g").events(event) == (replace(event, sensor="g.strap"),)
    assert OwnIds("g").events(End(5)) == (End(5),)


def test_adapters_travel_word_for_word() -> None:
    head = head_of(TRAININGS["trouble"])

    assert OwnIds("g").head(head).adapters == head.adapters
    assert "Lane" not in json.dumps(asdict(OwnIds("g").head(head)))
