"""Bouts, recoveries, warnings and samples of blood as stimuli: start, duration, amplitude."""

from collections.abc import Iterator
from math import isnan
from typing import Any, Final

import numpy as np

from livemon.exchange.columns import Columns
from livemon.exchange.gather import Gathered
from livemon.exchange.snirf_parts import Stim
from livemon.exchange.tables import BOUTS, MARKS, WARNINGS

_LABELS: Final = ("onset", "duration", "amplitude")

#: Marks with a number that somebody took at one moment, and what they are called.
_MOMENTS: Final = {"lactate_mmol_l": "lactate, mmol/L", "rpe_cr10": "RPE, CR10"}


def stims_of(athlete: str, gathered: Gathered) -> tuple[Stim, ...]:
    """Return what happened to one athlete, a stimulus for each kind, in the order of the first."""
    named: dict[str, tuple[tuple[str, ...], list[tuple[float, ...]]]] = {}

    def add(name: str, labels: tuple[str, ...], *row: float) -> None:
        named.setdefault(name, (labels, []))[1].append(row)

    for start_s, length_s, bout, phase, work in _spans(
        gathered.columns(BOUTS).where(athlete=athlete), "number", "phase", "work"
    ):
        add(f"{phase}: {work}" if work else phase, (*_LABELS, "bout"), start_s, length_s, 1.0, bout)
    for start_s, length_s, rate, site in _spans(
        gathered.columns(WARNINGS).where(athlete=athlete), "fall_rate_pct_per_min", "site"
    ):
        labels = (*_LABELS, "fall_rate_pct_per_min")
        add(f"drain warning: {site}", labels, start_s, length_s, 1.0, rate)
    marks = gathered.columns(MARKS)
    for whom, t_s, key, value in zip(
        *(marks[name].tolist() for name in ("athlete", "t_s", "key", "value")), strict=True
    ):
        if whom in (athlete, None) and key in _MOMENTS and not isnan(value):
            add(_MOMENTS[key], _LABELS, t_s, 0.0, value)
    return tuple(
        Stim(name, labels, np.array(rows, dtype=np.float64))
        for name, (labels, rows) in named.items()
    )


def _spans(table: Columns, *columns: str) -> Iterator[tuple[Any, ...]]:
    """Yield start, duration and the named columns of each row."""
    length_s = (table["end_ns"] - table["start_ns"]) / 1e9
    cells = (table[name].tolist() for name in columns)
    return zip(table["start_s"].tolist(), length_s.tolist(), *cells, strict=True)
