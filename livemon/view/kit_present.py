"""From facts and a snapshot to the Kit page's model. Pure."""

from collections.abc import Iterable
from typing import Final

from livemon.monitor.snapshot import LaneState, SessionSnapshot
from livemon.tongue import marked, said, said_n
from livemon.view.kit_baseline_words import baseline_model
from livemon.view.kit_facts import KitFacts
from livemon.view.kit_model import AthleteModel, KitModel, WornModel
from livemon.view.kit_signal_words import nearby_models
from livemon.view.kit_worn_words import worn_model
from livemon.view.model import Tone
from livemon.view.settings import ViewSettings
from livemon.view.words import PRIORITY, URGENCY
from livemon.warn.priority import Priority

_LISTENING: Final = marked("Listening. Give it 10 to 20 s: sensors speak up every second or two.")
_NOT_LISTENING: Final = marked("Not listening. Switch “Look around” on to see what is nearby.")
_DEAF: Final = marked("Nothing can be heard while Bluetooth can't be used. Why stands above.")


def present_kit(
    facts: KitFacts, snapshot: SessionSnapshot | None, settings: ViewSettings
) -> KitModel:
    """Word everything."""
    lanes = {} if snapshot is None else {lane.athlete: lane for lane in snapshot.lanes}
    adipose_mm = {one.athlete: one.adipose_mm for one in facts.there}
    order = {athlete: place for place, athlete in enumerate(lanes)}
    worn = tuple(
        worn_model(
            used,
            lanes.get(used.athlete or ""),
            battery_low_pct=settings.battery_low_pct,
            adipose_mm=adipose_mm.get(used.athlete or ""),
        )
        for used in sorted(facts.in_use, key=lambda used: order.get(used.athlete or "", len(order)))
    )
    return KitModel(
        summary=_summary(worn),
        warnings=_warnings(lanes.values()),
        trouble=said(facts.trouble) if facts.trouble else "",
        looking=facts.looking,
        everything=facts.everything,
        searching=_searching(facts),
        nearby=nearby_models(facts.nearby),
        worn=worn,
        athletes=tuple(_athlete(lane, adipose_mm.get(name)) for name, lane in lanes.items()),
        known=tuple(
            AthleteModel(one.athlete, one.name, _band(one.band), _mm(one.adipose_mm))
            for one in facts.known
            if one.athlete not in lanes
        ),
        adapters=facts.adapters,
        baselines=tuple(baseline_model(one) for one in facts.resting),
        outcome=facts.outcome,
        wishes=facts.wishes,
    )


def _summary(worn: tuple[WornModel, ...]) -> str:
    if not worn:
        return said("No sensor in use yet")
    live = sum(one.tone is Tone.FRESH for one in worn)
    needing = sum(one.needs for one in worn)
    words = said_n(
        "{live} of {n} sensor gives data", "{live} of {n} sensors give data", len(worn), live=live
    )
    if not needing:
        return words
    return f"{words} · {said_n('{n} needs you', '{n} need you', needing)}"


def _warnings(lanes: Iterable[LaneState]) -> str:
    on = [
        (site.warning.priority, lane.name or lane.athlete, site.site)
        for lane in lanes
        for site in lane.state.sites
        if site.warning is not None and site.warning.priority is not Priority.INFORMATION
    ]
    on.sort(key=lambda warning: -URGENCY[warning[0]])
    return " · ".join(f"{said(PRIORITY[priority])}: {name}, {site}" for priority, name, site in on)


def _athlete(lane: LaneState, adipose_mm: float | None) -> AthleteModel:
    name = lane.name or lane.athlete
    return AthleteModel(lane.athlete, name, _band(lane.band_bpm), _mm(adipose_mm))


def _mm(adipose_mm: float | None) -> str:
    return "" if adipose_mm is None else f"{adipose_mm:g}"


def _band(band: tuple[int, int] | None) -> str:
    return "" if band is None else f"{band[0]}–{band[1]}"


def _searching(facts: KitFacts) -> str:
    """Return what to say where nothing is listed."""
    if not facts.looking:
        return said(_NOT_LISTENING)
    return said(_DEAF if facts.trouble else _LISTENING)
