"""A sensor in use, in words: its value, how its link stands, and what somebody has to do."""

from dataclasses import replace
from typing import Final

from livemon.monitor.snapshot import HeartRateState, LaneState, SiteState, Trust
from livemon.tongue import marked, said
from livemon.view.effort_words import effort_models, main_effort
from livemon.view.fault import site_fault, strap_fault
from livemon.view.kit_about_words import about_words, charge_pct
from livemon.view.kit_advice import THICK, THICK_MM
from livemon.view.kit_facts import STRAP, WORK, InUse, Standing
from livemon.view.kit_model import WornModel
from livemon.view.kit_signal_words import choice_models
from livemon.view.model import Tone
from livemon.view.numbers import DASH, whole
from livemon.view.wheel_entry import wheel_words
from livemon.view.words import TONE

_LINK: Final = {
    Standing.SEARCHING: marked("looking for it"),
    Standing.ASKING: marked("which one is it?"),
    Standing.OPENING: marked("linking"),
    Standing.OPEN: marked("linked, no data yet"),
    Standing.LIVE: marked("live"),
    Standing.SILENT: marked("linked, silent"),
    Standing.WAITING: marked("trying again soon"),
    Standing.REFUSED: marked("refused"),
    Standing.STOPPED: marked("stopped"),
}
#: In these nothing happens until a person acts, or something is wrong for sure.
_NEEDS: Final = {Standing.ASKING, Standing.SILENT, Standing.REFUSED}
_CAN_RETRY: Final = {Standing.SEARCHING, Standing.WAITING, Standing.REFUSED, Standing.SILENT}

_FELT: Final = marked("worn, good contact")
_STRAP_OFF: Final = marked(
    "No skin contact: wet the electrodes and snug the strap below the chest."
)
_SITE_OFF: Final = marked(
    "No skin contact: seat it on the belly of the muscle, snug but not tight, and cover it."
)
_JUMPED: Final = marked(
    "The reading jumped as no muscle does: see whether it slipped or lets light in."
)
_WRONG: Final = {Trust.NO_CONTACT: _SITE_OFF, Trust.SUSPECT: _JUMPED}
_LOW: Final = marked("The battery is low: charge it or change the cell before the session.")


def worn_model(
    used: InUse,
    lane: LaneState | None,
    *,
    battery_low_pct: int,
    adipose_mm: float | None = None,
) -> WornModel:
    """Word one sensor; `lane` and `adipose_mm` are its athlete's."""
    value, tone, felt, wrong = _reading(used, lane)
    charge = charge_pct(used, lane)
    low = charge is not None and charge <= battery_low_pct
    battery = "" if charge is None else said("battery {percent} %", percent=charge)
    live = used.standing is Standing.LIVE
    thick = used.reading not in {STRAP, WORK} and adipose_mm is not None and adipose_mm > THICK_MM
    link = "" if live and felt == said(_FELT) else said(_LINK[used.standing])
    state = [link, felt if live else "", battery]
    hints = [used.hint, wrong if live else "", said(_LOW) if low else ""]
    hint = " ".join(one for one in hints if one)
    return WornModel(
        sensor=used.sensor,
        athlete=used.athlete,
        who=_name(lane),
        site=" · ".join(used.sites) or _measured(used),
        name=used.name,
        reading=used.reading,
        value=value,
        tone=tone if live else (Tone.ABSENT if value == DASH else Tone.OLD),
        state=" · ".join(part for part in state if part),
        needs=bool(hint) or used.standing in _NEEDS,
        hint=hint,
        caution=said(THICK, mm=f"{adipose_mm:g}") if thick else "",
        about=about_words(used, lane),
        choices=choice_models(used.candidates),
        can_retry=used.standing in _CAN_RETRY,
        wheel=wheel_words(used.wheel_m),
    )


def _measured(used: InUse) -> str:
    return said("work") if used.reading == WORK else said("heart rate")


def _name(lane: LaneState | None) -> str:
    return said("Nobody") if lane is None else lane.name or lane.athlete


def _reading(used: InUse, lane: LaneState | None) -> tuple[str, Tone, str, str]:
    """Return value, tone, contact in words, and what to do about the contact."""
    if lane is None:
        return DASH, Tone.ABSENT, "", ""
    if used.reading == STRAP:
        return _of_strap(lane.state.heart_rate)
    if used.reading == WORK:
        return _of_work(used.sensor, lane)
    sites = [site for site in lane.state.sites if site.site in used.sites]
    if not sites:
        return DASH, Tone.ABSENT, "", ""
    return _of_sites(sites)


def _of_strap(heart: HeartRateState) -> tuple[str, Tone, str, str]:
    if heart.trust is Trust.NO_CONTACT:
        return DASH, Tone.FAULT, said("no skin contact"), said(_STRAP_OFF)
    if heart.trust is Trust.ABSENT or heart.bpm is None:
        return DASH, Tone.ABSENT, "", ""
    felt = said(_FELT) if heart.contact else ""
    return f"{whole(heart.bpm)} bpm", TONE[heart.trust], strap_fault(heart) or felt, ""


def _of_work(sensor: str, lane: LaneState) -> tuple[str, Tone, str, str]:
    """Show what this sensor measures, not another one of the same athlete; else SpO2."""
    own = tuple(state for state in lane.effort if state.sensor == sensor)
    told = main_effort(replace(lane, effort=own))
    if told is None and not lane.effort and lane.arterial is not None:
        (told,) = effort_models(lane)
    return (DASH, Tone.ABSENT, "", "") if told is None else (told.text, told.tone, told.age, "")


def _of_sites(sites: list[SiteState]) -> tuple[str, Tone, str, str]:
    """Several probes on one cable are worded by the one that is worst off."""
    worst = max(sites, key=lambda site: list(Trust).index(site.trust))
    shown = [
        whole(one.smo2_pct if one.trust in {Trust.GOOD, Trust.STALE} else None) for one in sites
    ]
    value = DASH if all(one == DASH for one in shown) else f"{' · '.join(shown)} %"
    wrong = _WRONG.get(worst.trust)
    felt = "" if worst.trust is Trust.ABSENT else site_fault(worst)
    if worst.trust is Trust.GOOD and all(one.contact for one in sites):
        felt = said(_FELT)
    return value, TONE[worst.trust], felt, "" if wrong is None else said(wrong)
