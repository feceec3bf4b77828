"""Every figure of the picked bouts as a table: a row for each quantity, a column for each bout."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from livemon.analyse.bout import Intensity
from livemon.analyse.intensity_words import intensity_in_full
from livemon.analyse.measure import Measure
from livemon.analyse.muscle import MuscleBout
from livemon.analyse.session import BoutAnalysis
from livemon.estimate.balance import Balance
from livemon.reworded.analysis import analysis_said
from livemon.tongue import marked, said
from livemon.view.bouts_numbers import Cell, cell, missing
from livemon.view.bouts_source import PlacedBout
from livemon.view.numbers import clock
from livemon.view.words import BALANCE, sentence_case


@dataclass(frozen=True, slots=True)
class Row:
    """One quantity; `heading` rows only name the site whose quantities follow."""

    name: str
    cells: tuple[Cell, ...]
    heading: bool = False


@dataclass(frozen=True, slots=True)
class Figures:
    """The table. `places` gives each column's colour and marker."""

    columns: tuple[str, ...]
    places: tuple[int, ...]
    rows: tuple[Row, ...]


#: name with unit, decimals, signed, where it is found.
_MUSCLE: Final[tuple[tuple[str, int, bool, Callable[[MuscleBout], Measure]], ...]] = (
    (marked("Slope of late part, %/min"), 1, True, lambda m: m.late.slope),
    (marked("Baseline, %"), 0, False, lambda m: m.baseline.level),
    (marked("Drop, points"), 0, False, lambda m: m.depth.drop),
    (marked("Late level, %"), 0, False, lambda m: m.late.level),
    (marked("Half-recovery time, s"), 0, False, lambda m: m.recovery.half_time),
    (marked("Overshoot, points"), 0, True, lambda m: m.recovery.overshoot),
    (marked("Time to nadir, s"), 0, False, lambda m: m.depth.time_to_nadir),
    (marked("Area under baseline, %·min"), 0, False, lambda m: m.depth.area),
    (marked("Onset, time constant, s"), 0, False, lambda m: m.onset.time_constant),
)

_HEART: Final[tuple[tuple[str, int, bool, Callable[[BoutAnalysis], Measure]], ...]] = (
    (marked("Late mean, bpm"), 0, False, lambda b: b.heart_rate.late_mean),
    (marked("Drift, bpm/min"), 1, True, lambda b: b.heart_rate.drift),
)


def figures(picked: Sequence[PlacedBout], sites: Sequence[str]) -> Figures:
    """Return the figures of these bouts and sites."""
    rows = [*_work_rows(picked), *_heart_rows(picked)]
    for site in sites:
        rows += _site_rows(picked, site)
    rows += _lactate_rows(picked)
    return Figures(
        tuple(p.label for p in picked),
        tuple(p.place for p in picked),
        tuple(rows) if picked else (),
    )


def _work_rows(picked: Sequence[PlacedBout]) -> Iterator[Row]:
    bouts = [p.found.bout for p in picked]
    yield Row(said("Duration"), tuple(Cell(clock(b.duration_s)) for b in bouts))
    yield Row(said("Intensity"), tuple(_intensity(b.intensity) for b in bouts))
    yield Row(said("RPE (CR10)"), tuple(
        missing(said("not asked")) if b.rpe is None else Cell(f"{b.rpe:g}") for b in bouts
    ))  # fmt: skip


def _intensity(entered: Intensity | None) -> Cell:
    if entered is None:
        return missing(said("nobody entered a load, and no power or speed was measured"))
    return Cell(analysis_said(intensity_in_full(entered)))


def _heart_rows(picked: Sequence[PlacedBout]) -> Iterator[Row]:
    yield Row(said("Heart rate"), (), heading=True)
    for name, decimals, sign, find in _HEART:
        yield Row(said(name), tuple(cell(find(p.found), decimals, signed=sign) for p in picked))
    yield Row(
        said("Steady?"),
        tuple(Cell(analysis_said(p.found.heart_rate.steadiness.value)) for p in picked),
    )
    yield Row(
        said("Steady after"), tuple(_clock(p.found.heart_rate.time_to_steady) for p in picked)
    )
    yield Row(said("Time in band"), tuple(_clock(p.found.heart_rate.in_band) for p in picked))


def _site_rows(picked: Sequence[PlacedBout], site: str) -> Iterator[Row]:
    muscles = [next((m for m in p.found.muscles if m.site == site), None) for p in picked]
    absent = missing(said("no sensor on {site} in this recording", site=site))
    yield Row(sentence_case(site), (), heading=True)
    yield Row(said("Balance"), tuple(absent if m is None else _word(m) for m in muscles))
    for name, decimals, sign, find in _MUSCLE:
        yield Row(said(name), tuple(
            absent if m is None else cell(find(m), decimals, signed=sign) for m in muscles
        ))  # fmt: skip
    if any(m is not None and m.blood_volume is not None for m in muscles):
        yield Row(
            said("tHb change, %"), tuple(absent if m is None else _volume(m) for m in muscles)
        )


def _lactate_rows(picked: Sequence[PlacedBout]) -> Iterator[Row]:
    lactates = [p.found.lactate for p in picked]
    if not any(one.last.value is not None for one in lactates):
        return
    yield Row(said("Lactate"), (), heading=True)
    yield Row(said("Last sample, mmol/L"), tuple(cell(one.last, 1) for one in lactates))
    yield Row(said("Change, mmol/L"), tuple(cell(one.change, 1, signed=True) for one in lactates))


def _word(muscle: MuscleBout) -> Cell:
    known = muscle.word.balance is not Balance.UNSURE
    return Cell(said(BALANCE[muscle.word.balance]), analysis_said(muscle.word.reason), known)


def _volume(muscle: MuscleBout) -> Cell:
    if muscle.blood_volume is None:
        return missing(said("the sensor gives no total haemoglobin"))
    shown = cell(muscle.blood_volume.change, 1, signed=True)
    reading = analysis_said(muscle.blood_volume.reading)
    return Cell(shown.text, reading or shown.tip, shown.known)


def _clock(measure: Measure) -> Cell:
    if measure.value is None:
        return missing(analysis_said(measure.reason) or said("not known"))
    return Cell(clock(round(measure.value)))
