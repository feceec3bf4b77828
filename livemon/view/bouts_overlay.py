"""Bouts over one another, aligned at their start: one pane for each site, one for heart rate."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from livemon.analyse.series import Series
from livemon.tongue import marked, said
from livemon.view.bouts_source import PlacedBout
from livemon.view.bouts_trace import AFTER_S, BEFORE_S, Trace, round_range, trace, value_at
from livemon.view.numbers import DASH, clock, signed, whole
from livemon.view.words import sentence_case

HEART_RATE: Final = marked("Heart rate, bpm")
_SMO2_STEP: Final = 10.0
_SMO2_LEAST: Final = 30.0  #: less would blow noise up to a trend
_BPM_STEP: Final = 20.0
_BPM_LEAST: Final = 60.0
_EMPTY_SMO2: Final = (30.0, 80.0)
_EMPTY_CHANGE: Final = (-40.0, 10.0)
_EMPTY_BPM: Final = (80.0, 180.0)


@dataclass(frozen=True, slots=True, eq=False)
class OverlayCurve:
    """One bout in one pane; `place` gives colour and marker."""

    place: int
    label: str
    trace: Trace


@dataclass(frozen=True, slots=True, eq=False)
class Pane:
    """One quantity of all picked bouts, on one scale."""

    title: str
    curves: tuple[OverlayCurve, ...]
    low: float
    high: float
    relative: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Overlay:
    """The picture of all picked bouts.

    Attributes:
        begin_s: left edge, in seconds from the bouts' start.
        ends_s: by place, when each bout ended.
        note: what can't be shown and why; empty if all is.
    """

    panes: tuple[Pane, ...]
    begin_s: float
    end_s: float
    ends_s: tuple[tuple[int, float], ...]
    note: str


@dataclass(frozen=True, slots=True)
class ReadOut:
    """What stands at the cross-hair: a time, and a row of values for each bout."""

    time: str
    columns: tuple[str, ...]
    places: tuple[int, ...]
    rows: tuple[tuple[str, ...], ...]


def overlay(picked: Sequence[PlacedBout], sites: Sequence[str], *, relative: bool) -> Overlay:
    """Lay bouts over one another.

    Args:
        picked: the bouts.
        sites: muscle sites to show, one pane each.
        relative: SmO2 as points from each bout's own baseline, not in %.
    """
    notes: list[str] = []
    panes = [_smo2_pane(picked, site, notes, relative=relative) for site in sites]
    panes.append(_heart_pane(picked, notes))
    longest_s = max((b.found.bout.duration_s for b in picked), default=240.0)
    ends_s = tuple((b.place, b.found.bout.duration_s) for b in picked)
    note = "; ".join(notes) if picked else said("pick a bout in the list to see it here")
    return Overlay(tuple(panes), -BEFORE_S, longest_s + AFTER_S, ends_s, note)


def read_out(shown: Overlay, t_s: float | None) -> ReadOut:
    """Read all curves at one time; without a time there are dashes."""
    columns = (said("Bout"), *(pane.title for pane in shown.panes))
    heart = shown.panes[-1]
    places = dict.fromkeys(c.place for pane in shown.panes for c in pane.curves)
    labels = {c.place: c.label for pane in shown.panes for c in pane.curves}
    rows = [
        (labels[place], *(_value(pane, place, t_s, whole_number=pane is heart)
                          for pane in shown.panes))
        for place in sorted(places)
    ]  # fmt: skip
    return ReadOut(_time_words(t_s), columns, tuple(sorted(places)), tuple(rows))


def _time_words(t_s: float | None) -> str:
    if t_s is None:
        return said("Point at the curves to read them")
    if t_s < 0:
        return said("{time} before the start", time=clock(-t_s))
    return said("{time} after the start", time=clock(t_s))


def _value(pane: Pane, place: int, t_s: float | None, *, whole_number: bool) -> str:
    found = [c for c in pane.curves if c.place == place]
    value = value_at(found[0].trace, t_s) if found and t_s is not None else None
    if value is None:
        return DASH
    if whole_number:
        return whole(value)
    return signed(value) if pane.relative else f"{value:.1f}"


def _smo2_pane(
    picked: Sequence[PlacedBout], site: str, notes: list[str], *, relative: bool
) -> Pane:
    curves: list[OverlayCurve] = []
    for placed in picked:
        series = placed.session.record.smo2.get(site)
        if series is None:
            notes.append(said("{bout}: no sensor on {site}", bout=placed.label, site=site))
            continue
        level = _baseline(placed, site) if relative else 0.0
        if level is None:
            told = said(
                "{bout}: no baseline at {site}, so no points from it", bout=placed.label, site=site
            )
            notes.append(told)
            continue
        curves += _curve(
            placed,
            series,
            level,
            said("{bout}: no SmO2 of {site} in it", bout=placed.label, site=site),
            notes,
        )
    empty = _EMPTY_CHANGE if relative else _EMPTY_SMO2
    title = marked("{site}, points from baseline") if relative else marked("{site}, SmO₂ %")
    low, high = _range(curves, _SMO2_STEP, _SMO2_LEAST) or empty
    if not relative:
        low, high = max(low, 0.0), min(high, 100.0)
    return Pane(said(title, site=sentence_case(site)), tuple(curves), low, high, relative)


def _heart_pane(picked: Sequence[PlacedBout], notes: list[str]) -> Pane:
    curves: list[OverlayCurve] = []
    for placed in picked:
        curves += _curve(
            placed,
            placed.session.record.heart_rate,
            0.0,
            said("{bout}: no heart rate in it", bout=placed.label),
            notes,
        )
    low, high = _range(curves, _BPM_STEP, _BPM_LEAST) or _EMPTY_BPM
    return Pane(said(HEART_RATE), tuple(curves), low, high)


def _curve(
    placed: PlacedBout, series: Series, level: float, without: str, notes: list[str]
) -> list[OverlayCurve]:
    shown = trace(series, placed.found.bout, level)
    if len(shown.t_s) == 0:
        notes.append(without)
        return []
    return [OverlayCurve(placed.place, placed.label, shown)]


def _baseline(placed: PlacedBout, site: str) -> float | None:
    found = [m.baseline.level.value for m in placed.found.muscles if m.site == site]
    return found[0] if found else None


def _range(curves: Sequence[OverlayCurve], step: float, least: float) -> tuple[float, float] | None:
    ends = [float(f(c.trace.values)) for c in curves for f in (min, max)]
    return round_range(ends, step, least)
