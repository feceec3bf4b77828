"""The tables of an export: readings as they came, and what people and livemon said about them."""

from typing import Final

from livemon.exchange.table import Column, Kind, Table


def _number(name: str, about: str, unit: str = "", unit_from: str = "") -> Column:
    return Column(name, Kind.NUMBER, about, unit, measured=True, unit_from=unit_from)


def _count(name: str, about: str, unit: str = "") -> Column:
    return Column(name, Kind.NUMBER, about, unit)


def _whole(name: str, about: str, unit: str = "") -> Column:
    return Column(name, Kind.WHOLE, about, unit)


def _text(name: str, about: str) -> Column:
    return Column(name, Kind.TEXT, about)


def _name(name: str, about: str) -> Column:
    return Column(name, Kind.TEXT, about, personal=True)


_TIME: Final = Column("time", Kind.MOMENT, "arrival of the reading")
_ATHLETE: Final = (
    _text("athlete", "id of who wore the sensor"),
    _name("athlete_name", "name of who wore the sensor"),
)
_SENSOR: Final = _text("sensor", "id of the sensor")
_REFUSED: Final = _text("refused", "why the live session did not use the reading; else empty")

OXYGENATION: Final = Table(
    "oxygenation",
    "readings of muscle oximeters, one row for each site and packet",
    (
        _TIME,
        *_ATHLETE,
        _SENSOR,
        _text("site", "muscle site"),
        _number("smo2_pct", "muscle oxygen saturation", "%"),
        _number("thb", "total haemoglobin, in the sensor's unit", unit_from="thb_unit"),
        _text("thb_unit", "unit of thb, as the sensor's adapter says"),
        _number("o2hb", "oxygenated haemoglobin, in the sensor's unit", unit_from="o2hb_unit"),
        _text("o2hb_unit", "unit of o2hb"),
        _number("hhb", "deoxygenated haemoglobin, in the sensor's unit", unit_from="hhb_unit"),
        _text("hhb_unit", "unit of hhb"),
        Column("contact", Kind.FLAG, "skin contact"),
        _count("quality_pct", "the sensor's own trust in the reading", "%"),
        _whole("sequence", "the sensor's packet counter"),
        _count("device_t_s", "the sensor's own clock", "s"),
        _REFUSED,
    ),
)
HEART_RATE: Final = Table(
    "heart_rate",
    "readings of straps",
    (
        _TIME,
        *_ATHLETE,
        _SENSOR,
        _number("bpm", "heart rate", "bpm"),
        Column("contact", Kind.FLAG, "skin contact"),
        _whole("energy_kj", "energy expended, as the strap counts it", "kJ"),
        _REFUSED,
    ),
)
RR_INTERVALS: Final = Table(
    "rr_intervals",
    "times between heart beats, oldest first; time is the packet's arrival, not the beat's",
    (_TIME, *_ATHLETE, _SENSOR, _number("rr_s", "RR interval", "s"), _REFUSED),
)
INTENSITY: Final = Table(
    "intensity",
    "readings of power meters, foot and crank sensors and machines",
    (
        _TIME,
        *_ATHLETE,
        _SENSOR,
        _text("source", "what kind of work is measured"),
        _number("power_w", "mechanical power", "W"),
        _number("speed_m_per_s", "speed", "m/s"),
        _number("cadence_per_min", "steps, strokes or revolutions a minute", "/min"),
        _number("distance_m", "distance since the source began to count", "m"),
        _number("incline_pct", "incline", "%"),
        _whole("machine_bpm", "heart rate that the machine passes on", "bpm"),
    ),
)
SPO2: Final = Table(
    "spo2",
    "readings of pulse oximeters: arterial saturation, which is not SmO2",
    (
        _TIME,
        *_ATHLETE,
        _SENSOR,
        _number("spo2_pct", "arterial oxygen saturation by pulse oximetry", "%"),
        _number("pulse_bpm", "pulse rate", "bpm"),
        Column("trusted", Kind.FLAG, "no where the oximeter itself doubts the reading"),
    ),
)
BATTERY: Final = Table(
    "battery", "charge of the sensors", (_TIME, _SENSOR, _whole("battery_pct", "charge", "%"))
)
BOUTS: Final = Table(
    "bouts",
    "bouts, recoveries and warm-ups, after all corrections",
    (
        Column("start", Kind.MOMENT, "beginning"),
        Column("end", Kind.MOMENT, "end; of the recording, if it still went on"),
        *_ATHLETE,
        _whole("number", "of the bout; a recovery has that of the bout before it"),
        _text("phase", "work, recovery or warm-up"),
        _text("work", "kind of work"),
        _number("duration_s", "duration", "s"),
        _number("load", "what was noted as load", unit_from="load_unit"),
        _text("load_unit", "unit of load"),
        Column("repetitions", Kind.WHOLE, "repetitions", measured=True),
        _number("noted_distance_m", "distance that was noted", "m"),
        _text("rpe", "perceived exertion as it was said, on Borg's CR10 scale"),
        _number("rpe_cr10", "perceived exertion on Borg's CR10 scale"),
        _count("planned_s", "planned time", "s"),
        _count("planned_m", "planned distance", "m"),
        _whole("low_bpm", "lower edge of the bout's own heart-rate band", "bpm"),
        _whole("high_bpm", "upper edge of the bout's own heart-rate band", "bpm"),
        _name("notes", "what was noted in words"),
    ),
)
MARKS: Final = Table(
    "marks",
    "what was marked, after all corrections: a row for each value, one for a mark without any",
    (
        Column("time", Kind.MOMENT, "when it happened"),
        *_ATHLETE,
        _text("mark", "id of the mark"),
        _text("kind", "kind of mark"),
        _text("key", "what is said; its unit stands at the end"),
        _count("value", "what is said, where it is a number"),
        _text("words", "what is said, where it is text"),
    ),
)
WARNINGS: Final = Table(
    "warnings",
    "drain warnings, as the live session gave them",
    (
        Column("start", Kind.MOMENT, "beginning"),
        Column("end", Kind.MOMENT, "end; of the recording, if it was still on"),
        *_ATHLETE,
        _text("site", "muscle site"),
        _text("priority", "the most urgent it became"),
        _number("fall_rate_pct_per_min", "fall rate at its beginning", "%/min"),
        _number("falling_for_s", "how long the fall had lasted by then", "s"),
        _number("bpm", "the heart rate that held; empty if there was none", "bpm"),
        _text("ended_by", "why it ended; empty if it was still on"),
    ),
)

#: What sensors sent, row by row as the recording is read.
READINGS: Final = (OXYGENATION, HEART_RATE, RR_INTERVALS, INTENSITY, SPO2, BATTERY)

#: All, in the order in which people look for them.
TABLES: Final = (*READINGS, BOUTS, MARKS, WARNINGS)
