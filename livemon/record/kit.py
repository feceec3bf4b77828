"""Athletes, sensors and who wears what, as objects in a line: the head and later lines share them.

Nothing here knows what line they stand in.
"""

from livemon.events import Assigned, Athlete, Sensor
from livemon.record.jsonline import (
    Record,
    brief,
    free_text,
    items,
    number,
    problem,
    table,
    text,
    text_or_none,
    whole,
)


def athlete_record(athlete: Athlete) -> Record:
    """Return the object for an athlete.

    Raises:
        RecordingError: a site stands twice among the own lows.
    """
    lows = dict(athlete.own_low_pct)
    if len(lows) != len(athlete.own_low_pct):
        raise problem("own_low_pct", "a site stands there twice")
    return {
        "athlete": athlete.athlete,
        "name": athlete.name,
        "band_bpm": None if athlete.band_bpm is None else list(athlete.band_bpm),
        "adipose_mm": athlete.adipose_mm,
        "own_low_pct": lows,
    }


def read_athlete(record: Record) -> Athlete:
    """Return the athlete that `athlete_record` wrote."""
    lows = table(record, "own_low_pct")
    return Athlete(
        text(record, "athlete"),
        free_text(record, "name"),
        _band(record),
        None if record.get("adipose_mm") is None else number(record, "adipose_mm"),
        tuple((site, number(lows, site)) for site in lows),
    )


def sensor_record(sensor: Sensor) -> Record:
    """Return the object for a sensor."""
    return {"sensor": sensor.sensor, "name": sensor.name, "adapter": sensor.adapter}


def read_sensor(record: Record) -> Sensor:
    """Return the sensor that `sensor_record` wrote."""
    return Sensor(
        text(record, "sensor"), free_text(record, "name"), text_or_none(record, "adapter")
    )


def assigned_record(event: Assigned) -> Record:
    """Return the object for an assignment."""
    record: Record = {
        "t_ns": event.t_ns,
        "type": "assigned",
        "sensor": event.sensor,
        "athlete": event.athlete,
        "sites": list(event.sites),
    }
    # Left out where there is none, so that recordings without a wheel keep their bytes.
    return record if event.wheel_m is None else record | {"wheel_m": event.wheel_m}


def read_assigned(record: Record) -> Assigned:
    """Return the assignment that `assigned_record` wrote.

    Raises:
        RecordingError: a key is missing or holds something else.
    """
    sites = tuple(items(record, "sites"))
    if not all(type(site) is str for site in sites):
        raise problem("sites", f"expected texts, found {brief(sites)}")
    return Assigned(
        whole(record, "t_ns", 0),
        text(record, "sensor"),
        text_or_none(record, "athlete"),
        sites,
        _wheel_m(record),
    )


def _wheel_m(record: Record) -> float | None:
    if record.get("wheel_m") is None:
        return None
    wheel_m = number(record, "wheel_m")
    if wheel_m <= 0:
        raise problem("wheel_m", f"expected a number above 0, found {brief(wheel_m)}")
    return wheel_m


def _band(record: Record) -> tuple[int, int] | None:
    band = items({"band_bpm": record.get("band_bpm") or []}, "band_bpm")
    if not band:
        return None
    if [type(edge) for edge in band] != [int, int]:
        raise problem("band_bpm", f"expected two integers or null, found {brief(band)}")
    return band[0], band[1]
