"""One athlete's strip, and how urgently somebody should look at it."""

from typing import Final

from livemon.monitor.snapshot import LaneState, SiteState, Trust, WarningState
from livemon.tongue import marked, said
from livemon.view.chart_words import chart_model
from livemon.view.clock_words import clock_model
from livemon.view.effort_words import effort_models, main_effort
from livemon.view.fault import site_fault, strap_fault
from livemon.view.heart_rate_words import heart_rate_model
from livemon.view.lanes_model import LaneModel, Urgency
from livemon.view.numbers import span
from livemon.view.plan_words import announcement
from livemon.view.remarks import remarks
from livemon.view.settings import ViewSettings
from livemon.view.site_words import site_models
from livemon.view.words import URGENCY, sentence_case, shortened
from livemon.warn.priority import Priority

#: A strip has room for so much of a site's name beside the reason.
_NAME: Final = 14

_BLIND: Final = marked("{site} falling {time}, HR not known")
_HOLDING: Final = marked("{site} falling {time}, HR holds")

_OF_PRIORITY: Final = {
    Priority.DRAIN: Urgency.DRAIN,
    Priority.CAUTION: Urgency.CAUTION,
    Priority.INFORMATION: Urgency.INFORMATION,
}


def lane_model(
    lane: LaneState, number: int, settings: ViewSettings, *, pinned: bool = False
) -> LaneModel:
    """Word one lane."""
    heart_rate = heart_rate_model(lane.state.heart_rate, lane.band_bpm)
    sites = site_models(lane)
    priority, words = _warning(lane)
    fault = _fault(lane)
    urgency = _urgency(priority, fault)
    quiet = remarks(lane.sensors, settings.battery_low_pct)
    name = lane.name or lane.athlete
    shown = words or fault or announcement(lane) or (quiet[0] if quiet else "")
    bout = lane.bout
    return LaneModel(
        athlete=lane.athlete,
        number=number,
        name=name,
        words=sentence_case(shown),
        priority=priority,
        urgency=urgency,
        heart_rate=heart_rate,
        sites=sites,
        clock=clock_model(lane),
        resting=bout is not None and bout.resting,
        chart=chart_model(lane, settings.window_s, heart_rate, sites),
        pinned=pinned,
        spoken=". ".join(
            part
            for part in (
                shown,
                heart_rate.spoken,
                *(f"{one.name} {one.whole}" for one in effort_models(lane)),
                *(site.spoken for site in sites),
            )
            if part
        ),
        effort=main_effort(lane),
    )


def _warning(lane: LaneState) -> tuple[Priority | None, str]:
    """Return the most urgent warning and its reason in few words."""
    warned = [(site, site.warning) for site in lane.state.sites if site.warning is not None]
    if not warned:
        return None, ""
    site, warning = min(warned, key=lambda pair: (-URGENCY[pair[1].priority], pair[1].on_t_s))
    return warning.priority, _reason(site, warning)


def _reason(site: SiteState, warning: WarningState) -> str:
    sentence = _BLIND if warning.bpm is None else _HOLDING
    return said(sentence, site=shortened(site.site, _NAME), time=span(warning.falling_for_s))


def _fault(lane: LaneState) -> str:
    """Return the first fault; nothing while a lane as a whole is still awaited."""
    absent = lane.state.heart_rate.trust is Trust.ABSENT and all(
        site.trust is Trust.ABSENT for site in lane.state.sites
    )
    if absent:
        return ""
    strap = strap_fault(lane.state.heart_rate)
    if strap:
        return strap
    faults = ((shortened(site.site, _NAME), site_fault(site)) for site in lane.state.sites)
    return next((f"{name}: {fault}" for name, fault in faults if fault), "")


def _urgency(priority: Priority | None, fault: str) -> Urgency:
    if priority in {Priority.DRAIN, Priority.CAUTION}:
        return _OF_PRIORITY[priority]
    if fault:
        return Urgency.FAULT
    return Urgency.CALM if priority is None else _OF_PRIORITY[priority]
