"""Other people's CSV becomes a recording: numbers, times and bouts are those of the file."""

from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.analyse.gather import records_of
from livemon.analyse.session import AthleteRecord
from livemon.decode.dispatch import Decoders
from livemon.decode.samples import IntensitySample
from livemon.errors import ConfigError
from livemon.events import Notification
from livemon.exchange.clocks import Clock, time_reader
from livemon.exchange.imported import Imported, import_csv
from livemon.exchange.mapping import parse_mapping

FILE = """\
Time;Heart;Left;Blood;Watt;Speed;What;RR
0,0;120;65,3;12,25;200;3,5;warm;0,5
1,0;121;64,9;12,30;;;row;0,625
2,0;-;;;-15;;row;
3,0;122;fell off;12,40;210;3,6;rest;0,75

4,0;123;64,1;12,45;215;3,7;;0,5
"""
MAPPING = """\
livemon_mapping = 1
started = "2026-03-02T17:30:00+01:00"
separator = ";"
decimal = ","

[time]
column = "Time"
format = "s"

[[series]]
column = "Heart"
quantity = "heart_rate"

[[series]]
column = "RR"
quantity = "rr"

[[series]]
column = "Left"
quantity = "smo2"
site = "left thigh"

[[series]]
column = "Blood"
quantity = "thb"
site = "left thigh"
unit = "g/dL"

[[series]]
column = "Watt"
quantity = "power"

[[series]]
column = "Speed"
quantity = "speed"

[phase]
column = "What"
rest = ["rest"]
"""


def imported(text: str = FILE, mapping: str = MAPPING) -> Imported:
    return import_csv(text, parse_mapping(mapping, "map.toml"), "old.csv")


def record(made: Imported) -> AthleteRecord:
    (one,) = records_of(made.head, made.events)
    return one


def one_series(quantity: str, more: str = "") -> str:
    return (
        'livemon_mapping = 1\nstarted = "2026-03-02T17:30:00Z"\n'
        '[time]\ncolumn = "t"\nformat = "s"\n'
        f'[[series]]\ncolumn = "x"\nquantity = "{quantity}"\n{more}'
    )


def test_numbers_are_those_of_the_file() -> None:
    read = record(imported())

    assert read.heart_rate.values.tolist() == [120.0, 121.0, 122.0, 123.0]
    assert read.smo2["left thigh"].values.tolist() == [65.3, 64.9, 64.1]
    assert read.smo2["left thigh"].t_s.tolist() == [0.0, 1.0, 4.0]
    assert read.thb["left thigh"].values.tolist() == [12.25, 12.30, 12.45]


def test_the_wall_clock_is_the_mappings() -> None:
    head = imported().head

    assert datetime.fromisoformat(head.started_utc) == datetime.fromisoformat(
        "2026-03-02T17:30:00+01:00"
    )


def test_a_column_of_work_becomes_bouts() -> None:
    bouts = record(imported()).bouts

    assert [(b.start_s, b.end_s, b.kind, b.resting) for b in bouts] == [
        (0.0, 1.0, "warm", False),
        (1.0, 3.0, "row", False),
        (3.0, 4.0, "", True),
    ]


def test_bouts_can_stand_in_the_mapping() -> None:
    stretches = (
        '[[bout]]\nstart_s = 1\nend_s = 2.5\nwork = "sled push"\n'
        "[[bout]]\nstart_s = 2.5\nend_s = 4\nrecovery = true\n"
    )
    bouts = record(imported(mapping=MAPPING.partition("[phase]")[0] + stretches)).bouts

    assert [(b.start_s, b.end_s, b.kind, b.resting) for b in bouts] == [
        (1.0, 2.5, "sled push", False),
        (2.5, 4.0, "", True),
    ]


def test_what_is_no_number_is_counted_and_never_guessed() -> None:
    assert dict(imported().skipped) == {"cells that are no numbers": 1}


def test_the_same_file_gives_the_same_recording() -> None:
    first, second = imported(), imported()

    assert (first.head, first.events) == (second.head, second.events)
    assert first.head.session != imported(FILE.replace("120", "119")).head.session


@example(0.0)
@example(100.0)
@example(61.3)
@given(st.integers(0, 1_000_000).map(lambda n: n / 10_000))
def test_saturation_keeps_six_digits_as_written(pct: float) -> None:
    text = f"t,x\n0,{pct}\n"
    read = record(imported(text, one_series("smo2", 'site = "s"')))

    assert read.smo2["s"].values.tolist() == [pct]


def test_a_factor_turns_units() -> None:
    """Saturation as a share of one."""
    read = record(imported("t,x\n0,0.5\n", one_series("smo2", 'site = "s"\nfactor = 100')))

    assert read.smo2["s"].values.tolist() == [50.0]


def test_rows_are_put_in_order_and_times_below_zero_kept() -> None:
    made = imported("t,x\n3,122\n-2,120\n1,121\n", one_series("heart_rate"))

    assert record(made).heart_rate.t_s.tolist() == [0.0, 3.0, 5.0]
    assert record(made).heart_rate.values.tolist() == [120.0, 121.0, 122.0]
    assert made.head.started_utc.startswith("2026-03-02T17:29:58")


def test_dates_tell_the_start() -> None:
    mapping = one_series("heart_rate").replace('format = "s"', 'format = "iso"')
    made = imported(
        "t,x\n2026-03-02T17:30:00.5+01:00,120\n2026-03-02T16:30:02Z,121\n",
        mapping.replace('started = "2026-03-02T17:30:00Z"\n', ""),
    )

    assert record(made).heart_rate.t_s.tolist() == [0.0, 1.5]
    assert made.head.started_utc == "2026-03-02T16:30:00.500000+00:00"


@pytest.mark.parametrize(
    ("clock", "text", "t_ns"),
    [
        (Clock.SECONDS, "1.5", 1_500_000_000),
        (Clock.MILLISECONDS, "1.5", 1_500_000),
        (Clock.MINUTES, "1.5", 90_000_000_000),
        (Clock.CLOCK, "1:02:03.25", 3_723_250_000_000),
        (Clock.CLOCK, "2:03", 123_000_000_000),
        (Clock.UNIX, "1772472600.123456789", 1_772_472_600_123_456_789),
        (Clock.ISO, "2026-03-02T17:30:00Z", 1_772_472_600_000_000_000),
        (Clock.ISO, "2026-03-02 17:30:00", None),  # of which zone?
        (Clock.SECONDS, "soon", None),
        (Clock.SECONDS, "NaN", None),
        (Clock.CLOCK, "12", None),
    ],
)
def test_times_are_read_as_they_are_written(clock: Clock, text: str, t_ns: int | None) -> None:
    assert time_reader(clock, ".", None)(text) == t_ns


@pytest.mark.parametrize(
    ("quantity", "more", "cell"),
    [("heart_rate", "", "70000"), ("heart_rate", "", "-1"), ("power", "", "40000"),
     ("speed", "", "-1"), ("smo2", 'site = "s"', "101"), ("rr", "", "-0.5")],
)  # fmt: skip
def test_values_that_no_sensor_could_send_are_counted(quantity: str, more: str, cell: str) -> None:
    mapping = one_series(quantity, more).replace('column = "x"', 'column = "x"', 1)
    good = "1" if quantity != "heart_rate" else "60"

    made = imported(f"t,x\n0,{good}\n1,{cell}\n", mapping)

    assert dict(made.skipped) == {"values that no sensor could send": 1}


@pytest.mark.parametrize(
    ("text", "old", "new", "said"),
    [
        (FILE, 'column = "Heart"', 'column = "Pulse"', "no column 'Pulse'; it has Time, Heart"),
        (FILE, 'format = "s"', 'format = "clock"', "no row has a time"),
        (FILE, 'quantity = "rr"', 'quantity = "rrr"', "did you mean 'rr'"),
        (FILE, 'started = "2026-03-02T17:30:00+01:00"\n', "", "started: missing"),
        (FILE, "17:30:00+01:00", "17:30:00", "expected ISO 8601 with an offset"),
        (FILE, 'decimal = ","', 'decimal = ";"', "expected one of"),
        ("", "", "", "no column 'Time'; it has none"),
        ("Time;Heart;Left;Blood;Watt;Speed;What;RR\n0;;;;;;;\n", "", "", "no cell"),
    ],
)
def test_what_is_wrong_is_said_with_its_place(text: str, old: str, new: str, said: str) -> None:
    with pytest.raises(ConfigError, match=said.replace("(", r"\(")):
        imported(text, MAPPING.replace(old, new) if old else MAPPING)


def test_our_own_export_comes_back(tmp_path: Path) -> None:
    """What the list of values says of one site, as livemon itself wrote it."""
    text = (
        "t_s,athlete,table,source,quantity,value,unit,words\r\n"
        "0.100,a1,oxygenation,'-left,smo2_pct,61.3,%,\r\n"
        "0.100,a1,oxygenation,'-left,thb,12.37,g/dL,\r\n"
        "0.100,a1,heart_rate,belt,bpm,120,bpm,\r\n"
    )
    mapping = one_series(
        "smo2", 'site = "-left"\nwhere = { quantity = "smo2_pct", source = "-left" }'
    )

    made = imported(text, mapping.replace('"t"', '"t_s"').replace('"x"', '"value"'))

    assert record(made).smo2["-left"].values.tolist() == [61.3]


def test_the_mapping_in_the_documentation_can_be_read() -> None:
    page = (Path(__file__).parents[2] / "docs" / "exchange.md").read_text(encoding="utf-8")
    shown = page.partition("```toml\n")[2].partition("```")[0]

    mapping = parse_mapping(shown, "docs/exchange.md")

    assert [one.quantity.value for one in mapping.series] == ["heart_rate", "smo2"]
    assert [one.resting for one in mapping.stretches] == [False, True]


def test_power_and_speed_are_those_of_the_file() -> None:
    made = imported()
    decoders = Decoders(made.head.sensors, made.head.adapters)
    samples = [
        sample
        for event in made.events
        if isinstance(event, Notification)
        for sample in decoders.decode(event)
        if isinstance(sample, IntensitySample)
    ]

    assert [s.power_w for s in samples if s.power_w is not None] == [200, -15, 210, 215]
    # Treadmill Data has steps of 0.01 km/h.
    speeds = [s.speed_m_per_s for s in samples if s.speed_m_per_s is not None]
    assert speeds == pytest.approx([3.5, 3.6, 3.7], abs=0.005 / 3.6)
