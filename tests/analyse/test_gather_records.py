"""From a recording's events to bouts and figures: the whole way, with invented sensors."""

import struct
from dataclasses import replace

import numpy as np
import pytest

from livemon.analyse.bout import Intensity, Origin
from livemon.analyse.gather import records_of
from livemon.analyse.limits import Limit
from livemon.analyse.session import analyse_athlete
from livemon.analyse.windows import Window
from livemon.decode.adapter import parse_adapter
from livemon.decode.cycling import CSC_MEASUREMENT
from livemon.decode.cycling_power import CYCLING_POWER_MEASUREMENT
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.decode.running import RSC_MEASUREMENT
from livemon.decode.samples import OxygenationSample
from livemon.decode.shipped import shipped_adapters
from livemon.estimate.balance import Balance
from livemon.events import (
    Assigned,
    Athlete,
    AthleteChanged,
    End,
    Event,
    Gap,
    Head,
    Mark,
    Notification,
    Sensor,
    SensorAdded,
)
from livemon.synthetic.packets import oxygenation_packet
from livemon.synthetic.sessions import OVER_THE_LINE, TROUBLE
from livemon.synthetic.training import events_of, head_of

S = 1_000_000_000
HEAD = Head(
    "2026-05-12T17:30:00+00:00",
    "session-1",
    (Athlete("a1", "Ada", (140, 160)), Athlete("a2", "")),
    (Sensor("strap", "strap"),),
    (),
    (Assigned(0, "strap", "a1"),),
)


def beat(t_s: float, bpm: int, sensor: str = "strap") -> Notification:
    return Notification(round(t_s * S), sensor, HEART_RATE_MEASUREMENT, bytes((0, bpm)))


def mark(t_s: float, name: str, kind: str, athlete: str | None = None, **details: object) -> Mark:
    return Mark(round(t_s * S), name, athlete, kind, tuple(details.items()))


def test_a_strap_belongs_to_whoever_wears_it_at_the_time() -> None:
    events = [beat(1, 100), beat(2, 101), Assigned(3 * S, "strap", "a2"), beat(4, 120)]
    events += [Assigned(5 * S, "strap", None), beat(6, 130)]

    first, second = records_of(HEAD, events)

    assert first.heart_rate.values.tolist() == [100, 101]
    assert second.heart_rate.values.tolist() == [120]
    assert (first.athlete, second.athlete) == ("Ada", "a2")


def test_sites_stand_in_the_order_of_the_sensors_even_if_silent() -> None:
    worn = (Assigned(0, "o2", "a1", ("left calf",)), Assigned(0, "o1", "a1", ("arm (resting)",)))
    silent = replace(HEAD, sensors=(Sensor("o1", ""), Sensor("o2", "")), assigned=worn)

    first, second = records_of(silent, [End(S)])

    assert list(first.smo2) == ["left calf", "arm (resting)"]
    assert all(len(series) == 0 for series in first.smo2.values())
    assert first.idle_sites == {"arm (resting)"}
    assert second.smo2 == {}


def test_admission_is_the_same_as_live() -> None:
    """Zero beats and impossible ones are refused; a broken payload is passed over."""
    broken = Notification(4 * S, "strap", HEART_RATE_MEASUREMENT, b"")
    events = [beat(1, 100), beat(2, 0), beat(3, 250), broken, beat(5, 102)]

    assert records_of(HEAD, events)[0].heart_rate.values.tolist() == [100, 102]


def test_marks_become_bouts_with_what_was_noted() -> None:
    events = [
        mark(0, "b0", "baseline_start"),
        mark(60, "b1", "baseline_end"),
        mark(62, "w1", "warm_up_start"),
        mark(90, "w2", "warm_up_end"),
        mark(95, "b2", "baseline_start", athlete="a2"),
        mark(99, "b3", "baseline_end", athlete="a2"),
        mark(100, "m1", "bout_start", work="rowing"),
        mark(110, "n1", "load", load_w=250.0),
        mark(120, "n2", "rpe", rpe_cr10=7.0),
        mark(130, "n3", "note", text="windy"),
        mark(390, "l1", "lactate", athlete="a1", lactate_mmol_l=3.1, sampling_site="earlobe"),
        mark(400, "m2", "recovery_start"),
        mark(500, "m3", "bout_start", athlete="a1", work="sled push", low_bpm=150, high_bpm=170),
        mark(510, "n4", "distance", distance_m=1000.0),
        mark(750, "m4", "bout_end", athlete="a1"),
        mark(800, "m5", "bout_start", work="step-ups"),
        End(900 * S),
    ]

    first, second = records_of(HEAD, events)

    assert [(b.number, b.start_s, b.end_s, b.kind, b.resting) for b in first.bouts] == [
        (0, 62, 90, "", False),
        (1, 100, 400, "rowing", False),
        (1, 400, 500, "", True),
        (2, 500, 750, "sled push", False),
        (3, 800, 900, "step-ups", False),
    ]
    assert [b.judged for b in first.bouts] == [False, True, False, True, True]
    _, row, _, push, steps = first.bouts
    assert (row.intensity, row.rpe, row.note) == (Intensity(250, "W"), 7, "windy")
    assert push.intensity == Intensity(4, "m/s", Origin.DISTANCE)
    assert (push.band_bpm, steps.band_bpm) == ((150, 170), None)
    assert steps.recording == "session-1"
    assert (first.resting, second.resting) == (Window(0, 60), Window(95, 99))
    assert [(s.t_s, s.mmol_per_l, s.site) for s in first.lactate] == [(390, 3.1, "earlobe")]
    assert second.lactate == ()
    assert [b.kind for b in second.bouts if b.judged] == ["rowing", "step-ups"]


def measured(value: float, unit: str) -> Intensity:
    """A mean of readings that never changed in the window that counts."""
    return Intensity(value, unit, Origin.MEASURED, 0.0)


def effort(t_s: float, characteristic: str, payload: bytes) -> Notification:
    return Notification(round(t_s * S), "strap", characteristic, payload)


def test_measured_power_stands_in_for_a_load_that_nobody_entered() -> None:
    """Cycling power of 90 W in the first minute, then 210 W; a speed is there too."""
    events: list[Event] = [mark(0, "m1", "bout_start"), mark(300, "m2", "bout_start")]
    events += [mark(301, "n", "load", load_kg=40.0), mark(420, "m3", "bout_end")]
    for t_s in range(420):
        watt = 90 if t_s < 60 else 210
        power = b"\0\0" + watt.to_bytes(2, "little")
        events.append(effort(t_s, CYCLING_POWER_MEASUREMENT, power))
        events.append(effort(t_s, RSC_MEASUREMENT, b"\0" + (1024).to_bytes(2, "little") + b"\x50"))

    first, second = records_of(HEAD, sorted(events, key=lambda event: event.t_ns))

    assert [b.intensity for b in first.bouts] == [measured(210, "W"), Intensity(40, "kg")]
    assert [b.intensity for b in second.bouts] == [None, Intensity(40, "kg")]


def test_measured_speed_serves_where_there_is_no_power() -> None:
    events: list[Event] = [mark(0, "m1", "bout_start"), mark(60, "m2", "bout_end")]
    events += [mark(61, "m3", "bout_start"), mark(66, "m4", "bout_end")]
    for t_s in range(70):
        events.append(effort(t_s, RSC_MEASUREMENT, b"\0" + (1000).to_bytes(2, "little") + b"\x50"))

    record, _ = records_of(HEAD, sorted(events, key=lambda event: event.t_ns))

    assert [b.intensity for b in record.bouts] == [measured(3.91, "m/s"), None]


def test_a_marked_band_holds_from_then_on() -> None:
    events = [
        mark(10, "m1", "bout_start"),
        mark(20, "m2", "bout_end"),
        mark(30, "m3", "band", low_bpm=150, high_bpm=165),
        mark(40, "m4", "bout_start"),
        mark(50, "m5", "bout_end"),
    ]

    assert [b.band_bpm for b in records_of(HEAD, events)[0].bouts] == [None, (150, 165)]


def test_who_and_what_joins_later_is_there() -> None:
    events: list[Event] = [
        AthleteChanged(1 * S, Athlete("a3", "Eve")),
        SensorAdded(1 * S, Sensor("s2", "second strap")),
        Assigned(1 * S, "s2", "a3"),
        beat(2, 90, "s2"),
        Gap(3 * S, S, "slept"),
        beat(4, 91, "s2"),
        beat(5, 92, "unknown"),
    ]

    records = records_of(HEAD, events)

    assert [r.athlete for r in records] == ["Ada", "a2", "Eve"]
    assert records[2].heart_rate.values.tolist() == [90, 91]


def test_of_an_oximeter_its_battery_is_no_figure_and_a_gap_ends_a_run() -> None:
    """The rich example tells its battery; nobody was watching between 10 and 70 s."""
    text = shipped_adapters()["invented-rich"]
    rich = parse_adapter(text, where="rich")
    head = replace(
        HEAD,
        sensors=(Sensor("ox", "", "invented-rich"),),
        adapters=(("invented-rich", text),),
        assigned=(Assigned(0, "ox", "a1", ("left thigh",)),),
    )
    said = {"contact": True, "quality": 100.0, "smo2.lower": None, "battery": 50.0}
    events: list[Event] = [Gap(69 * S, 60 * S, "slept")]
    for t_s in (*range(10), *range(70, 80)):
        values = said | {
            "sequence": t_s % 50,
            "device_time": t_s / 10,
            "smo2.upper": 60.0 + t_s / 10,
        }
        packet = rich.encode(values)
        events.append(Notification(t_s * S, "ox", rich.characteristic, packet))

    record, _ = records_of(head, sorted(events, key=lambda event: event.t_ns))

    thigh = record.smo2["left thigh"]
    assert thigh.values.tolist() == pytest.approx(
        [60 + t / 10 for t in (*range(10), *range(70, 80))]
    )
    assert thigh.gaps == ((9.0, 70.0),)


@pytest.mark.parametrize("seed", range(3))
def test_four_kinds_of_work_through_make_believe_sensors(seed: int) -> None:
    """The invented session, written apart from the analysis; common practice for the words.

    At one heart rate the thigh refills, holds, holds deeper, and drains; the forearm rests.
    """
    forearm = frozenset({"right forearm"})
    (record,) = records_of(
        head_of(OVER_THE_LINE), events_of(OVER_THE_LINE, seed), idle_sites=forearm
    )
    found = analyse_athlete(record)
    thigh = [next(m for m in b.muscles if m.site == "left thigh") for b in found.bouts]

    assert [m.word.balance for m in thigh] == [
        Balance.SUPPLY_AHEAD,
        Balance.IN_BALANCE,
        Balance.IN_BALANCE,
        Balance.DEMAND_AHEAD,
    ]
    assert [b.limiter.limit for b in found.bouts] == [Limit.NOT_DECIDABLE] * 3 + [Limit.LOCAL]
    slope = thigh[3].late.slope
    assert slope.low is not None
    assert slope.high is not None
    assert slope.low <= -5.6 <= slope.high  # the script's fall in its late part


def test_bad_contact_slips_and_lost_links_give_no_wrong_word() -> None:
    """Three bouts that refill, hold and hold deeper, through all that can go wrong."""
    (record,) = records_of(head_of(TROUBLE), events_of(TROUBLE, 1))
    words = {
        (b.bout.number, m.site): m.word.balance
        for b in analyse_athlete(record).bouts
        for m in b.muscles
    }

    assert Balance.DEMAND_AHEAD not in words.values()


def test_a_site_named_resting_is_idle() -> None:
    head, events = head_of(OVER_THE_LINE), list(events_of(OVER_THE_LINE, 1))
    renamed = tuple(
        replace(a, sites=("Forearm (resting)",)) if a.sensor == "forearm" else a
        for a in head.assigned
    )
    (record,) = records_of(replace(head, assigned=renamed), events[:2000])
    (named,) = records_of(head, events[:2000], idle_sites=frozenset({"thigh"}))

    assert record.idle_sites == {"Forearm (resting)"}
    assert named.idle_sites == {"thigh"}


def test_the_pace_that_holds_is_found_from_a_wheel_sensor_alone() -> None:
    """Four bouts at 2, 3, 4 and 5 m/s; the invented thigh moves by 6 - 2 v %/min, level at 3.

    Nobody entered a load. The wheel goes 2 m in a revolution: v/2 of them in 1024 ticks a second.
    """
    oximeter = parse_adapter(shipped_adapters()["invented-demo"], where="demo")
    head = replace(
        HEAD,
        sensors=(Sensor("wheel", ""), Sensor("ox", "", "invented-demo")),
        adapters=(("invented-demo", shipped_adapters()["invented-demo"]),),
        assigned=(
            Assigned(0, "wheel", "a1", (), 2.0),
            Assigned(0, "ox", "a1", ("left thigh",)),
        ),
    )
    rng = np.random.default_rng(7)
    events: list[Event] = []
    at_s, ticks, turns = 0.0, 0, 0
    for number, m_per_s in enumerate((2.0, 3.0, 4.0, 5.0)):
        events.append(mark(at_s, f"b{number}", "bout_start", work="rowing"))
        for second in range(300):
            t_s = at_s + second
            if second % 2 == 0:  # a whole number of turns in two seconds
                turns, ticks = turns + round(m_per_s), ticks + 2048
            counts = struct.pack("<BIH", 1, turns, ticks % 65536)
            events.append(Notification(round(t_s * S), "wheel", CSC_MEASUREMENT, counts))
            pct = 60 + (6 - 2 * m_per_s) * second / 60 + float(rng.normal(0, 0.4))
            payload = oxygenation_packet(OxygenationSample(t_s, "", pct), oximeter, turns)
            events.append(Notification(round(t_s * S) + 1, "ox", oximeter.characteristic, payload))
        events.append(mark(at_s + 300, f"r{number}", "recovery_start"))
        at_s += 420

    found = analyse_athlete(records_of(head, events)[0])

    assert [b.bout.intensity for b in found.bouts] == [
        measured(m_per_s, "m/s") for m_per_s in (2.0, 3.0, 4.0, 5.0)
    ]
    (pace,) = found.paces
    assert (pace.pace.intensity.unit, pace.kind) == ("m/s", "rowing")
    assert pace.pace.intensity.value == pytest.approx(3.0, abs=0.15)
