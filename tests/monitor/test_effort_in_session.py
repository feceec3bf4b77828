"""Intensity and arterial saturation in the session: whose, how old, and never a muscle's.

Packets by hand from the field tables of the GATT Specification Supplement, "RSC Measurement", "CSC
Measurement" and "Cycling Power Measurement", and of the Pulse Oximeter Service.
"""

from struct import pack

import pytest

from livemon.decode.cycling import CSC_MEASUREMENT
from livemon.decode.cycling_power import CYCLING_POWER_MEASUREMENT
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.decode.pulse_oximeter import CONTINUOUS_MEASUREMENT
from livemon.decode.running import RSC_MEASUREMENT
from livemon.decode.samples import IntensitySource
from livemon.events import (
    Assigned,
    Athlete,
    AthleteChanged,
    Event,
    Gap,
    Head,
    LinkDown,
    LinkUp,
    Notification,
    Sensor,
)
from livemon.monitor.payload import change_line, snapshot_line
from livemon.monitor.session import Session
from livemon.monitor.snapshot import ArterialState, EffortState, LaneState, Trust
from livemon.series.effort import Effort

S = 1_000_000_000
SENSORS = ("foot", "wheel", "meter", "finger", "strap")
HEAD = Head(
    "2026-11-25T10:00:00+00:00",
    "s",
    athletes=(Athlete("a1", "Ada"), Athlete("a2", "Bo")),
    sensors=tuple(Sensor(name, name) for name in SENSORS),
    assigned=(*(Assigned(0, name, "a1") for name in SENSORS if name != "wheel"),
              Assigned(0, "wheel", "a1", (), 2.1)),
)  # fmt: skip


def running(t_ns: int, m_per_s: float, steps: int) -> Notification:
    payload = pack("<BHB", 0, round(m_per_s * 256), steps)
    return Notification(t_ns, "foot", RSC_MEASUREMENT, payload)


def wheel(t_ns: int, count: int, ticks: int) -> Notification:
    payload = pack("<BIH", 1, count % 2**32, ticks % 2**16)
    return Notification(t_ns, "wheel", CSC_MEASUREMENT, payload)


def power(t_ns: int, watts: int) -> Notification:
    return Notification(t_ns, "meter", CYCLING_POWER_MEASUREMENT, pack("<Hh", 0, watts))


def finger(t_ns: int, spo2: int, pulse: int, status: int | None = None) -> Notification:
    flags = 0 if status is None else 1 << 2
    tail = b"" if status is None else pack("<H", status)
    payload = pack("<BHH", flags, spo2, pulse) + tail
    return Notification(t_ns, "finger", CONTINUOUS_MEASUREMENT, payload)


def lane_after(*events: Event, until_s: float | None = None) -> LaneState:
    session = Session(HEAD)
    for event in events:
        session.feed(event)
    if until_s is not None:
        session.advance(round(until_s * S))
    return session.snapshot().lanes[0]


def of(lane: LaneState, effort: Effort) -> EffortState | None:
    return next((state for state in lane.effort if state.effort is effort), None)


def test_a_foot_sensor_gives_speed_and_cadence_with_age_and_source() -> None:
    lane = lane_after(running(S, 3.0, 172), until_s=2.5)

    assert lane.effort == (
        EffortState(Effort.SPEED, 3.0, 1.5, Trust.GOOD, IntensitySource.RUNNING, "foot"),
        EffortState(Effort.CADENCE, 172.0, 1.5, Trust.GOOD, IntensitySource.RUNNING, "foot"),
    )


def test_nobody_else_gets_it_and_nothing_is_counted_as_refused() -> None:
    session = Session(HEAD)
    session.feed(power(S, 250))
    snapshot = session.snapshot()

    assert [bool(lane.effort) for lane in snapshot.lanes] == [True, False]
    assert snapshot.rejected == ()


def test_before_anything_came_there_is_no_channel() -> None:
    assert lane_after().effort == ()
    assert lane_after().arterial is None


def test_silence_makes_it_stale_and_keeps_the_value_with_its_age() -> None:
    fresh = lane_after(power(S, 250), until_s=4.0)
    old = lane_after(power(S, 250), until_s=4.5)

    assert [(c.value, c.age_s, c.trust) for c in fresh.effort] == [(250.0, 3.0, Trust.GOOD)]
    assert [(c.value, c.age_s, c.trust) for c in old.effort] == [(250.0, 3.5, Trust.STALE)]


def test_a_wheel_that_stops_is_0_after_3_s_and_not_its_last_speed_for_ever() -> None:
    """The sensor goes on to say the same count and the same time of the last revolution."""
    rolling = [wheel(n * S, 4 * n, 1024 * n) for n in range(1, 4)]
    standing = [wheel(n * S, 12, 3 * 1024) for n in range(4, 8)]

    def speed_m_per_s(*events: Event) -> float | None:
        state = of(lane_after(*events), Effort.SPEED)
        return None if state is None else state.value

    assert speed_m_per_s(*rolling) == pytest.approx(8.4)
    assert speed_m_per_s(*rolling, *standing[:2]) == pytest.approx(8.4)
    assert speed_m_per_s(*rolling, *standing[:3]) == 0.0
    assert speed_m_per_s(*rolling, *standing) == 0.0


def test_a_wheel_without_a_size_gives_no_speed() -> None:
    taken = [Assigned(0, "wheel", "a1"), wheel(S, 0, 0), wheel(2 * S, 4, 1024)]

    assert of(lane_after(*taken), Effort.SPEED) is None


@pytest.mark.parametrize(
    "interruption",
    [
        pytest.param([LinkDown(3 * S, "wheel", "gone"), LinkUp(4 * S, "wheel")], id="lost link"),
        pytest.param([Gap(4 * S, S, "asleep")], id="nobody watched"),
    ],
)
def test_no_speed_is_made_up_over_an_interruption(interruption: list[Event]) -> None:
    """One difference across it would be 1 revolution in 96 ticks, which is 22 m/s."""
    before = [wheel(S, 0, 0), wheel(2 * S, 4, 1024)]
    after = wheel(70 * S, 5, 1120)
    state = of(lane_after(*before, *interruption, after), Effort.SPEED)

    assert state is not None
    assert (state.value, state.age_s) == (pytest.approx(8.4), 68.0)
    assert state.trust is Trust.STALE


def test_a_silence_longer_than_the_clock_can_count_gives_no_speed() -> None:
    """The event clock of 16 bits at 1024 a second is round after 64 s."""
    state = of(
        lane_after(wheel(S, 0, 0), wheel(2 * S, 4, 1024), wheel(67 * S, 8, 2048)), Effort.SPEED
    )

    assert state is not None
    assert state.trust is Trust.STALE
    assert state.age_s == 65.0


def test_the_count_goes_on_across_2_to_the_32() -> None:
    state = of(lane_after(wheel(S, 2**32 - 2, 65_000), wheel(2 * S, 2, 66_024)), Effort.SPEED)

    assert state is not None
    assert state.value == pytest.approx(8.4)


def test_arterial_saturation_is_no_muscle() -> None:
    lane = lane_after(finger(S, 98, 72), until_s=2.0)

    assert lane.arterial == ArterialState(98.0, 72.0, 1.0, Trust.GOOD)
    assert lane.state.sites == ()


def test_a_reading_that_the_oximeter_doubts_is_shown_as_suspect() -> None:
    """Status bit 14, "questionable measurement detected"."""
    state = lane_after(finger(S, 91, 72, status=1 << 14)).arterial

    assert state is not None
    assert state.trust is Trust.SUSPECT


def test_an_oximeter_without_a_reading_keeps_the_last_one_and_its_age() -> None:
    """0x07FF is "not a number" in IEEE 11073 16-bit floats."""
    gone = [finger(n * S, 0x07FF, 0x07FF) for n in range(2, 7)]
    never = lane_after(finger(S, 0x07FF, 0x07FF)).arterial
    kept = lane_after(finger(S, 98, 72), *gone).arterial

    assert never == ArterialState(None, None, None, Trust.ABSENT)
    assert kept == ArterialState(98.0, 72.0, 5.0, Trust.STALE)


def test_the_units_stand_in_the_snapshots_line() -> None:
    session = Session(HEAD)
    session.feed(running(S, 3.0, 172))
    line = snapshot_line(session.snapshot())

    assert (
        '{"effort":"speed_m_per_s","value":3.0,"age_s":0.0,"trust":"good","source":"running"'
        in (line)
    )
    assert '"arterial":null' in line


def test_intensity_changes_nothing_of_what_heart_and_muscle_say() -> None:
    """The same beats with and without a power meter between them: the same states and changes."""
    beats = [
        Notification(n * S, "strap", HEART_RATE_MEASUREMENT, bytes((0x06, 120 + n % 7)))
        for n in range(1, 60)
    ]
    watts = [power(n * S + 250_000_000, 200 + n) for n in range(1, 60)]

    def told(events: list[Event]) -> tuple[list[str], LaneState]:
        session, lines = Session(HEAD), []
        for event in sorted(events, key=lambda event: event.t_ns):
            lines += [change_line(name, change) for name, change in session.feed(event)]
        session.advance(61 * S)
        return lines, session.snapshot().lanes[0]

    (lines, without), (more_lines, with_power) = told(list(beats)), told([*beats, *watts])

    assert (lines, without.state) == (more_lines, with_power.state)
    assert with_power.effort != ()


def test_who_joins_later_is_measured_too() -> None:
    session = Session(HEAD)
    session.feed(AthleteChanged(S, Athlete("a3", "Cy")))
    session.feed(Assigned(S, "meter", "a3"))
    session.feed(power(2 * S, 180))

    assert [lane.effort[0].value for lane in session.snapshot().lanes if lane.effort] == [180.0]


@pytest.mark.parametrize("also", [(), ("foot",)], ids=["alone", "beside a foot sensor"])
def test_a_strap_taken_off_leaves_no_heart_rate_behind(also: tuple[str, ...]) -> None:
    """A foot sensor on the same athlete is no second strap."""
    session = Session(HEAD)
    session.feed(Notification(S, "strap", HEART_RATE_MEASUREMENT, bytes((0x06, 120))))
    for _ in also:
        session.feed(running(S, 3.0, 160))
    for name in {"foot", "meter", "finger", "wheel"} - set(also):
        session.feed(Assigned(2 * S, name, None))
    assert session.snapshot().lanes[0].state.heart_rate.bpm == 120

    session.feed(Assigned(3 * S, "strap", None))

    assert session.snapshot().lanes[0].state.heart_rate.bpm is None
