"""One muscle site in words."""

from dataclasses import replace
from typing import Final

from livemon.estimate.balance import Balance
from livemon.estimate.trend import Trend
from livemon.monitor.snapshot import LaneState, RefillState, SiteState, Trust
from livemon.tongue import marked, said, said_n
from livemon.view.fault import site_fault
from livemon.view.model import SiteModel, Tilt, Tone
from livemon.view.numbers import DASH, minutes_ahead, signed, whole
from livemon.view.refill_words import refill_words
from livemon.view.words import BALANCE, TONE, sentence_case

#: Room is worth a word while a muscle falls or may fall; else it would only alarm.
_ROOM_MATTERS: Final = {Balance.DEMAND_AHEAD, Balance.UNSURE}

_UNDER: Final = marked("{points} points under baseline {percent} %")
_OVER: Final = marked("{points} points over baseline {percent} %")


def site_models(lane: LaneState) -> tuple[SiteModel, ...]:
    """Word every site of a lane."""
    refill = {one.site: one for one in lane.refill}
    return tuple(site_model(site, refill.get(site.site)) for site in lane.state.sites)


def site_model(site: SiteState, refill: RefillState | None = None) -> SiteModel:
    """Word one site; where the sensor is at fault the fault takes the place of the trend.

    Args:
        site: its state.
        refill: how far it has refilled, in a recovery; it takes the place of room and forecast.
    """
    fault = site_fault(site)
    detail, further = (fault, None) if fault else _further(site, refill)
    shown = site.smo2_pct if site.trust in {Trust.GOOD, Trust.STALE} else None
    text = whole(shown)
    trend = None if fault else site.trend
    name = sentence_case(site.site)
    model = SiteModel(
        name=name,
        text=text,
        tone=Tone.ABSENT if text == DASH and not fault else TONE[site.trust],
        balance=DASH if fault else said(BALANCE[site.balance]),
        rate=f"{signed(trend.pct_per_min)} %/min" if trend else DASH,
        interval=_interval(trend),
        detail=detail,
        tilt=_tilt(trend, site.balance),
        warning=site.warning.priority if site.warning else None,
        spoken="",
        further=further,
    )
    return _with_speech(model)


def _interval(trend: Trend | None) -> str:
    if trend is None:
        return ""
    low, high = signed(trend.low_pct_per_min), signed(trend.high_pct_per_min)
    return said("({low} to {high})", low=low, high=high)


def _tilt(trend: Trend | None, balance: Balance) -> Tilt | None:
    if trend is None:
        return None
    slope, low, high = trend.pct_per_min, trend.low_pct_per_min, trend.high_pct_per_min
    return Tilt(slope, low, high, sure=balance is not Balance.UNSURE)


def _further(site: SiteState, refill: RefillState | None) -> tuple[str, str | None]:
    """Return what is worth adding. A muscle that is level at its own low is not refilling."""
    if refill is None or site.balance is Balance.AT_LOW:
        return _detail(site), None
    share, half = refill_words(refill)
    return share or _detail(site), half


def _detail(site: SiteState) -> str:
    """Return the one thing worth adding, by what the muscle is doing."""
    if site.balance is Balance.AT_LOW:
        return said("near own low {percent} %", percent=whole(site.own_low_pct))
    if site.balance in _ROOM_MATTERS and site.room_pct is not None:
        return _room(site, site.room_pct)
    if site.baseline_pct is not None and site.smo2_pct is not None:
        return _against_baseline(site.smo2_pct, site.baseline_pct)
    return ""


def _room(site: SiteState, room_pct: float) -> str:
    points = round(room_pct)
    if points == 0:
        return said("at own low {percent} %", percent=whole(site.own_low_pct))
    room = said_n("{n} point of room", "{n} points of room", points)
    if site.forecast is None:
        return room
    time = minutes_ahead(site.forecast.soonest_s, site.forecast.latest_s)
    return said("{room}, low {time}", room=room, time=time)


def _against_baseline(smo2_pct: float, baseline_pct: float) -> str:
    """Compare what is shown: points that a person could check by subtracting."""
    points = round(smo2_pct) - round(baseline_pct)
    if abs(points) <= 1:
        return said("at baseline {percent} %", percent=whole(baseline_pct))
    sided = _UNDER if points < 0 else _OVER
    return said(sided, points=abs(points), percent=whole(baseline_pct))


def _with_speech(model: SiteModel) -> SiteModel:
    if model.text == DASH:
        parts = [said("{site} not known", site=model.name)]
    else:
        parts = [said("{site} {number} percent", site=model.name, number=model.text)]
    if model.balance != DASH:
        parts.append(model.balance.lower())
    if model.rate != DASH:
        trend = f"{model.rate} {model.interval}"
        parts.append(trend.replace("%/min", said("percent per minute")))
    parts += [part for part in (model.detail, model.further or "") if part]
    return replace(model, spoken=", ".join(parts))
