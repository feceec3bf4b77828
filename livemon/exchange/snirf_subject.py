"""From an athlete's tables to what a SNIRF file holds of them."""

from collections.abc import Iterator
from typing import Final

import numpy as np

from livemon.exchange.columns import Columns
from livemon.exchange.gather import Gathered
from livemon.exchange.snirf_haemoglobin import haemoglobin
from livemon.exchange.snirf_parts import Aux, Block, Channel, Subject
from livemon.exchange.snirf_stims import stims_of
from livemon.exchange.snirf_units import unit_of
from livemon.exchange.tables import HEART_RATE, INTENSITY, OXYGENATION, RR_INTERVALS, SPO2

#: Some readers want two wavelengths even for haemoglobin; nobody told any, and none is 0.
_NO_LIGHT_NM: Final = (0.0, 0.0)


def subjects_of(gathered: Gathered, *, even: bool) -> tuple[Subject, ...]:
    """Return everybody who has readings, in the order in which they came.

    Args:
        gathered: all tables.
        even: HbO and HbR of all sites on one even grid, for readers that know nothing else.
    """
    tables = {
        table.name: gathered.columns(table).used()
        for table in (OXYGENATION, HEART_RATE, RR_INTERVALS, INTENSITY, SPO2)
    }
    known = {athlete for table in tables.values() for athlete in table["athlete"].tolist()}
    subjects = []
    for athlete in dict.fromkeys(sorted(known)):
        own = {name: table.where(athlete=athlete) for name, table in tables.items()}
        subject = _subject(athlete, own, gathered, even=even)
        if subject is not None:
            subjects.append(subject)
    return tuple(subjects)


def _subject(
    athlete: str, own: dict[str, Columns], gathered: Gathered, *, even: bool
) -> Subject | None:
    """Return one athlete; None where no light was measured, without which there is no SNIRF."""
    oxygenation = own[OXYGENATION.name]
    sites = tuple(dict.fromkeys(oxygenation["site"].tolist()))
    parts = [oxygenation.where(site=site) for site in sites]
    blocks = tuple(_block(place, part) for place, part in enumerate(parts, start=1))
    tags = [("AthleteName", name) for name in _names(own)]
    if even:
        block, unit = haemoglobin(parts)
        blocks = () if block is None else (block,)
        tags.append(("HaemoglobinUnit", unit))
    if not blocks:
        return None
    return Subject(
        athlete,
        sites,
        blocks,
        _aux(own),
        stims_of(athlete, gathered),
        _NO_LIGHT_NM if even else (),
        tuple(tags),
    )


def _names(own: dict[str, Columns]) -> Iterator[str]:
    """Yield what the athlete is called, where names were asked for and somebody said."""
    for table in own.values():
        if table.rows and table.get("athlete_name") is not None and table["athlete_name"][-1]:
            yield table["athlete_name"][-1]
            return


def _block(place: int, part: Columns) -> Block:
    """Return one site's readings at the times at which they came."""
    channels = [Channel("StO2", "%", place, part["smo2_pct"])]
    for name, label in (("thb", "HbT"), ("o2hb", "HbO"), ("hhb", "HbR")):
        if not np.isnan(part[name]).all():
            channels.append(Channel(label, unit_of(part[f"{name}_unit"]), place, part[name]))
    return Block(part["t_s"], tuple(channels))


def _aux(own: dict[str, Columns]) -> tuple[Aux, ...]:
    wanted = (
        (HEART_RATE.name, "bpm", "heart rate", "bpm"),
        (RR_INTERVALS.name, "rr_s", "RR interval", "s"),
        (INTENSITY.name, "power_w", "power", "W"),
        (INTENSITY.name, "speed_m_per_s", "speed", "m/s"),
        (INTENSITY.name, "cadence_per_min", "cadence", "1/min"),
        (INTENSITY.name, "distance_m", "distance", "m"),
        (INTENSITY.name, "incline_pct", "incline", "%"),
        (SPO2.name, "spo2_pct", "SpO2", "%"),
    )
    found = []
    for table, column, name, unit in wanted:
        values = own[table][column]
        known = ~np.isnan(values)
        if known.any():
            found.append(Aux(name, unit, own[table]["t_s"][known], values[known]))
    return tuple(found)
