"""One relay's lines as events of the hub's session, and what it may not say."""

from dataclasses import replace

import pytest

from livemon.app.hub_events import RelayedEvents
from livemon.app.relay_ids import OwnIds
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.events import (
    Assigned,
    Athlete,
    AthleteChanged,
    End,
    Event,
    Gap,
    Head,
    LinkDown,
    LinkUp,
    Mark,
    Notification,
    Sensor,
    SensorAdded,
)
from livemon.net.hub import LiveLines
from livemon.net.trouble import MessageError
from livemon.record.lines import encode_event
from livemon.synthetic.sessions import TRAININGS
from livemon.synthetic.training import head_of

S = 1_000_000_000
HEAD = OwnIds("g1").head(replace(head_of(TRAININGS["over-the-line"]), session="s1"))


class Relay:
    """A relay as the hub hears it, its head told."""

    def __init__(self) -> None:
        self.refused: list[str] = []
        self.events = RelayedEvents("g1", self.refused.append)
        self.events.head(HEAD)
        self.events.begin("s1", 0)

    def live(self, *events: Event, first: int = 1, sent_ns: int = 10 * S) -> list[Event]:
        lines = tuple(encode_event(event).encode() for event in events)
        return self.events.live("s1", LiveLines(first, lines, sent_ns, 100 * S), 110 * S)

    def filled(self, *events: Event, first: int = 1) -> list[Event]:
        lines = tuple(encode_event(event).encode() for event in events)
        return self.events.filled("s1", first, lines, 200 * S)


def data(t_ns: int, sensor: str = "g1.strap") -> Notification:
    return Notification(t_ns, sensor, HEART_RATE_MEASUREMENT, b"\x06\x3c")


def test_the_kit_is_told_once() -> None:
    events = RelayedEvents("g1", pytest.fail)
    assert events.begin("s1", 5) == []  # its head has not come yet
    events.head(HEAD)

    told = events.begin("s1", 7)

    assert {event.t_ns for event in told} == {7}
    kinds = [type(event) for event in told]
    assert kinds == [AthleteChanged] + [SensorAdded] * 3 + [Assigned] * 3
    assert events.begin("s1", 8) == []


def test_live_lines_come_in_the_hubs_time() -> None:
    assert Relay().live(data(9 * S)) == [data(109 * S)]


def test_a_mark_that_was_entered_late_keeps_its_distance() -> None:
    mark = Mark(9 * S, "g1.m1.a1", "g1.a1", "bout_start", (), at_ns=8 * S)

    assert Relay().live(mark) == [replace(mark, t_ns=109 * S, at_ns=108 * S)]


@pytest.mark.parametrize("t_ns", [5 * S - 1, 10 * S + 1])
def test_a_reading_whose_time_is_not_when_it_was_sent_is_no_news(t_ns: int) -> None:
    relay = Relay()

    assert relay.live(data(t_ns)) == []
    assert "time" in relay.refused[0]
    assert relay.live(data(5 * S), data(10 * S)) == [data(105 * S), data(110 * S)]


@pytest.mark.parametrize(
    "event",
    [
        pytest.param(data(9 * S, "g2.strap"), id="another's sensor"),
        pytest.param(data(9 * S, "strap"), id="nobody's sensor"),
        pytest.param(LinkDown(9 * S, "g2.strap", ""), id="another's link"),
        pytest.param(Assigned(9 * S, "g1.strap", "g2.a1"), id="to another's athlete"),
        pytest.param(Assigned(9 * S, "g2.strap", "g1.a1"), id="another's sensor to an own athlete"),
        pytest.param(AthleteChanged(9 * S, Athlete("g2.a1", "")), id="another's athlete"),
        pytest.param(Mark(9 * S, "g1.m", "g2.a1", "note"), id="a mark for another's athlete"),
        pytest.param(Mark(9 * S, "g1.m", None, "bout_start"), id="a mark for everybody"),
        pytest.param(Mark(9 * S, "m1", "g1.a1", "note"), id="a mark of the hub's own"),
        pytest.param(SensorAdded(9 * S, Sensor("g2.x", "")), id="a sensor for another"),
        pytest.param(SensorAdded(9 * S, Sensor("g1.x", "", "no-such")), id="an unknown adapter"),
        pytest.param(
            SensorAdded(9 * S, Sensor("g1.x", "", "bad"), "not = TOML ="), id="a broken adapter"
        ),
    ],
)
def test_what_is_not_its_own_is_refused_and_the_rest_goes_on(event: Event) -> None:
    relay = Relay()

    assert relay.live(event, data(9 * S), first=1) == [data(109 * S)]
    assert relay.filled(event, first=1) == []
    assert len(relay.refused) >= 1


@pytest.mark.parametrize(
    "line",
    [b"", b"nonsense", b"[]", b'{"t_ns":1}', b'{"t_ns":-1,"type":"end"}', b"\xff\xfe", b"[" * 9000],
)
def test_a_malformed_line_is_refused_and_the_rest_goes_on(line: bytes) -> None:
    relay = Relay()
    lines = line, encode_event(data(9 * S)).encode()

    assert relay.events.live("s1", LiveLines(1, lines, 10 * S, 100 * S), 0) == [data(109 * S)]
    assert len(relay.refused) == 1


def test_lines_of_a_later_type_are_passed_over() -> None:
    relay = Relay()

    assert relay.events.live("s1", LiveLines(1, (b'{"type":"later"}',), 10 * S, 0), 0) == []
    assert relay.refused == []


@pytest.mark.parametrize(
    "head",
    [
        pytest.param(replace(HEAD, athletes=(Athlete("g2.a1", ""),)), id="another's athlete"),
        pytest.param(replace(HEAD, sensors=(Sensor("g2.s", ""),)), id="another's sensor"),
        pytest.param(replace(HEAD, assigned=(Assigned(0, "g2.s", None),)), id="another's wear"),
        pytest.param(replace(HEAD, adapters=()), id="an adapter missing"),
        pytest.param(replace(HEAD, adapters=(("invented-demo", "x = ="),)), id="a broken adapter"),
    ],
)
def test_a_head_that_is_not_its_own_is_refused(head: Head) -> None:
    with pytest.raises(MessageError):
        RelayedEvents("g1", pytest.fail).head(head)


def test_what_is_filled_in_tells_how_things_are_and_no_reading() -> None:
    told = Relay().filled(
        LinkUp(1, "g1.strap"),
        data(2 * S),
        LinkUp(3, "g1.thigh"),
        LinkDown(4 * S, "g1.strap", "out of reach"),
        Mark(5 * S, "g1.m1.a1", "g1.a1", "bout_start"),
        Gap(6 * S, 5, "slept"),
    )

    assert [(type(event), event.t_ns) for event in told] == [
        (LinkUp, 200 * S),
        (LinkUp, 200 * S),
        (LinkDown, 200 * S),
    ]


def test_what_is_filled_in_never_overrules_what_is_newer() -> None:
    relay = Relay()
    relay.live(LinkUp(9 * S, "g1.strap"), first=50)

    assert relay.filled(LinkDown(1 * S, "g1.strap", ""), first=20) == []
    assert relay.filled(LinkDown(9 * S, "g1.strap", ""), first=51) != []


def test_the_end_of_a_relays_session_is_the_end_of_its_links_only() -> None:
    relay = Relay()
    relay.live(LinkUp(9 * S, "g1.strap"))

    assert relay.live(End(10 * S), first=2) == [LinkDown(110 * S, "g1.strap", "relay g1")]


def test_a_gap_at_a_relay_opens_its_own_links_afresh() -> None:
    relay = Relay()
    relay.live(LinkUp(9 * S, "g1.strap"))

    told = relay.live(Gap(10 * S, 5, "slept"), first=2)

    assert told == [LinkDown(110 * S, "g1.strap", "relay g1"), LinkUp(110 * S, "g1.strap")]


def test_a_new_session_takes_off_what_is_no_longer_there() -> None:
    relay = Relay()
    relay.live(LinkUp(9 * S, "g1.strap"))
    less = replace(HEAD, session="s2", sensors=HEAD.sensors[1:], assigned=HEAD.assigned[1:])
    relay.events.head(less)

    told = relay.events.begin("s2", 7)

    assert told[0] == LinkDown(7, "g1.strap", "relay g1")
    assert Assigned(7, "g1.strap", None) in told


def test_an_earlier_recording_that_is_filled_in_changes_nothing() -> None:
    relay = Relay()
    relay.events.head(replace(HEAD, session="s0"))

    assert relay.events.filled("s0", 1, (encode_event(LinkUp(1, "g1.strap")).encode(),), 7) == []
    assert relay.live(data(9 * S)) == [data(109 * S)]
