"""The strip chart's content: curves, bouts and warnings of the last minutes."""

from livemon.monitor.snapshot import LaneState, SiteState
from livemon.tongue import said
from livemon.view.model import (
    BoutMark,
    ChartModel,
    CurveModel,
    HeartRateModel,
    SiteModel,
    WarningMark,
)
from livemon.view.numbers import DASH
from livemon.view.words import sentence_case


def chart_model(
    lane: LaneState,
    window_s: float,
    heart_rate: HeartRateModel,
    sites: tuple[SiteModel, ...],
) -> ChartModel:
    """Gather what falls into the window that ends now."""
    now_s = lane.state.t_s
    begin_s = now_s - window_s
    places = {state.site: place for place, state in enumerate(lane.state.sites)}
    curves = tuple(
        _curve(place, state, model)
        for place, (state, model) in enumerate(zip(lane.state.sites, sites, strict=True))
    )
    return ChartModel(
        now_s=now_s,
        window_s=window_s,
        sites=curves,
        heart_rate=CurveModel(
            place=-1,
            label=said("Heart rate, bpm"),
            value=_heart_rate(heart_rate.text),
            tone=heart_rate.tone,
            last=heart_rate.bpm,
            own_low=None,
            forecast=None,
            trail=lane.state.heart_rate.trail,
        ),
        band=lane.band_bpm,
        bouts=tuple(
            BoutMark(start_s, end_s, _bout_label(kind, resting=resting), resting)
            for start_s, end_s, kind, resting in lane.bouts
            if end_s is None or end_s > begin_s
        ),
        warnings=tuple(
            WarningMark(on_s, off_s, places[site], priority)
            for on_s, off_s, site, priority in lane.warnings
            if site in places and (off_s is None or off_s > begin_s)
        ),
        summary=_summary(window_s, curves),
    )


def _curve(place: int, state: SiteState, model: SiteModel) -> CurveModel:
    forecast = None
    if state.forecast is not None and state.own_low_pct is not None and model.tilt is not None:
        forecast = (state.forecast.soonest_s, state.forecast.latest_s, state.own_low_pct)
    return CurveModel(
        place=place,
        label=model.name,
        value=model.text if model.text == DASH else f"{model.text} %",
        tone=model.tone,
        last=None if model.text == DASH else state.smo2_pct,
        own_low=_low_in_force(state),
        forecast=forecast,
        trail=state.trail,
    )


def _low_in_force(state: SiteState) -> float | None:
    """Return the own low; None while the muscle is deeper, and nobody knows yet how low it goes."""
    low, now = state.own_low_pct, state.smo2_pct
    deeper = low is not None and now is not None and state.room_pct is None and now < low
    return None if deeper else low


def _heart_rate(text: str) -> str:
    return text if text == DASH else said("{bpm} bpm", bpm=text)


def _bout_label(kind: str, *, resting: bool) -> str:
    return sentence_case(kind) or (said("Recovery") if resting else said("Bout"))


def _summary(window_s: float, curves: tuple[CurveModel, ...]) -> str:
    names = ", ".join(f"{curve.label} {curve.value}" for curve in curves)
    return said(
        "Strip chart of the last {minutes} minutes: {sites}",
        minutes=f"{window_s / 60:.0f}",
        sites=names or said("no muscle site"),
    )
