"""Everybody at once: bytes go to the athlete who wears the sensor, and to no other."""

from hypothesis import given
from hypothesis import strategies as st

from livemon.decode.battery import BATTERY_LEVEL
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.decode.shipped import shipped_adapters
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
from livemon.monitor.payload import change_line, snapshot_line
from livemon.monitor.session import Session
from livemon.monitor.ticks import TICK_NS

S = 1_000_000_000
HEAD = Head(
    "2026-11-25T10:00:00+00:00",
    "s",
    athletes=(Athlete("a1", "Ada", (140, 150)), Athlete("a2", "Bo")),
    sensors=(Sensor("strap-1", "one"), Sensor("strap-2", "two")),
    assigned=(Assigned(0, "strap-1", "a1"), Assigned(0, "strap-2", "a2")),
)


def beat(t_ns: int, sensor: str, bpm: int) -> Notification:
    """Heart Rate Measurement with an 8-bit rate and contact (flags 0x06)."""
    return Notification(t_ns, sensor, HEART_RATE_MEASUREMENT, bytes((0x06, bpm)))


def session_after(*events: Event, head: Head = HEAD) -> Session:
    session = Session(head)
    for event in events:
        session.feed(event)
    return session


def rates(session: Session) -> list[float | None]:
    return [lane.state.heart_rate.bpm for lane in session.snapshot().lanes]


def test_each_strap_reaches_its_own_athlete() -> None:
    session = session_after(beat(S, "strap-1", 144), beat(S, "strap-2", 120))

    assert rates(session) == [144, 120]


def test_a_strap_handed_over_takes_nothing_along() -> None:
    """What came before is not the next one's, and does not linger with whom it came from."""
    session = session_after(
        beat(S, "strap-1", 144), Assigned(2 * S, "strap-1", "a2"), beat(3 * S, "strap-1", 150)
    )

    assert rates(session) == [None, 150]


def test_a_strap_worn_by_nobody_is_counted_and_given_to_nobody() -> None:
    session = session_after(Assigned(0, "strap-1", None), beat(S, "strap-1", 144))

    assert rates(session) == [None, None]
    assert session.snapshot().rejected == (("worn by nobody", 1),)


def test_what_is_not_known_is_counted() -> None:
    session = session_after(
        beat(S, "stranger", 144),
        Assigned(S, "strap-1", "nobody"),
        Mark(S, "m1", "nobody", "bout_start"),
        Notification(S, "strap-1", HEART_RATE_MEASUREMENT, b"\x01\x50"),
        Notification(S, "strap-1", "0000aaaa-0000-1000-8000-00805f9b34fb", b"\x01"),
    )

    assert dict(session.snapshot().rejected) == {
        "unknown sensor": 1,
        "assignment of the unknown": 1,
        "mark for the unknown": 1,
        "ends before heart rate": 1,
        "no decoder for it": 1,
    }


def test_battery_and_link_are_shown_with_the_athlete_who_wears_the_sensor() -> None:
    session = session_after(
        LinkUp(0, "strap-1"),
        Notification(S, "strap-1", BATTERY_LEVEL, b"\x55"),
        LinkUp(S, "strap-2"),
        LinkDown(2 * S, "strap-2", "out of reach"),
    )
    session.advance(4 * S)
    one, two = (lane.sensors[0] for lane in session.snapshot().lanes)

    assert (one.linked, one.battery_pct, one.silent_for_s) == (True, 85, 3.0)
    assert (two.linked, two.battery_pct, two.silent_for_s) == (False, None, None)


def test_sensors_and_athletes_may_join_later() -> None:
    text = shipped_adapters()["invented-demo"]
    session = session_after(
        AthleteChanged(S, Athlete("a3", "Cy")),
        SensorAdded(S, Sensor("oxi", "O", "invented-demo"), text),
        Assigned(S, "oxi", "a3", ("left calf",)),
        Notification(
            2 * S,
            "oxi",
            "aac41a88-f6e3-4dca-a514-e1a92ecef3af",
            bytes.fromhex("7a 02 10 05 01 01"),
        ),
    )
    lane = session.snapshot().lanes[2]

    assert lane.name == "Cy"
    assert [(site.site, site.smo2_pct) for site in lane.state.sites] == [("left calf", 63.4)]


def test_a_changed_athlete_keeps_what_was_measured() -> None:
    session = session_after(
        beat(S, "strap-1", 144), AthleteChanged(2 * S, Athlete("a1", "Ada L.", (130, 140)))
    )
    lane = session.snapshot().lanes[0]

    assert (lane.name, lane.band_bpm, lane.state.heart_rate.bpm) == ("Ada L.", (130, 140), 144)


def test_a_mark_for_everybody_begins_a_bout_for_each() -> None:
    details = (("work", "rowing"), ("planned_s", 300), ("low_bpm", 150), ("high_bpm", 160))
    session = session_after(Mark(5 * S, "m1", None, "bout_start", details))
    lanes = session.snapshot().lanes

    assert [lane.bout.kind for lane in lanes if lane.bout] == ["rowing", "rowing"]
    assert [lane.band_bpm for lane in lanes] == [(150, 160), (150, 160)]


def test_the_band_is_the_last_that_was_marked() -> None:
    session = session_after(
        Mark(S, "m1", "a1", "band", (("low_bpm", 120), ("high_bpm", 130))),
        Mark(2 * S, "m2", "a1", "band", ()),
    )

    assert session.snapshot().lanes[0].band_bpm is None


def test_a_measured_baseline_is_shown() -> None:
    text = shipped_adapters()["invented-demo"]
    session = session_after(
        SensorAdded(0, Sensor("oxi", "O", "invented-demo"), text),
        Assigned(0, "oxi", "a1", ("left calf",)),
        Mark(S, "m1", "a1", "baseline_result", (("site", "left calf"), ("smo2_pct", 66.5))),
    )

    assert session.snapshot().lanes[0].state.sites[0].baseline_pct == 66.5


def test_after_a_gap_nothing_is_aged_by_ticks_that_nobody_watched() -> None:
    """Twenty minutes of lid closed make one tick, not 2,400."""
    ticks: list[int] = []
    session = Session(HEAD, each_tick=lambda at: ticks.append(at.t_ns))
    session.feed(beat(S, "strap-1", 144))
    session.feed(Gap(1201 * S, 1200 * S, "the computer slept"))
    session.advance(1202 * S)

    assert ticks == [TICK_NS, S, 1201 * S, 1201 * S + TICK_NS, 1202 * S]


def test_the_end_is_shown() -> None:
    assert session_after(End(S)).snapshot().ended
    assert not session_after().snapshot().ended


@given(st.lists(st.integers(0, 20 * S), max_size=12))
def test_waking_between_events_leaves_no_trace(wakes: list[int]) -> None:
    """A driver that wakes often and one that never does end with the same lines."""
    beats = [beat(t_s * S, "strap-1", 140 + t_s) for t_s in range(1, 20)]

    def lines(moments: list[int]) -> list[str]:
        got: list[str] = []
        session = Session(HEAD, each_tick=lambda at: got.append(snapshot_line(at.snapshot())))
        waiting = sorted(moments)
        for event in beats:
            while waiting and waiting[0] < event.t_ns:
                session.advance(waiting.pop(0))
            session.feed(event)
        session.advance(20 * S)
        return got

    assert lines(wakes) == lines([])


def test_changes_are_told_with_type_athlete_time_and_site() -> None:
    from livemon.monitor.changes import Slipped, WarningOff, WarningOn
    from livemon.warn.priority import Priority

    on = WarningOn("left thigh", 12.5, Priority.DRAIN, 6.1, 24.0, 158.0)

    assert change_line("a1", on) == (
        '{"type":"warning_on","athlete":"a1","site":"left thigh","t_s":12.5,"priority":"drain",'
        '"fall_rate_pct_per_min":6.1,"falling_for_s":24.0,"bpm":158.0}'
    )
    assert '"type":"warning_off"' in change_line("a1", WarningOff("s", 1.0, "level"))
    assert '"type":"slipped"' in change_line("a1", Slipped("s", 1.0, -7.0))


def test_a_link_of_a_sensor_that_nobody_named_changes_nothing() -> None:
    session = session_after(beat(S, "strap-1", 144))
    before = session.snapshot()

    session.feed(LinkUp(S, "stranger"))
    session.feed(LinkDown(S, "stranger", "out of reach"))

    assert session.snapshot() == before
