"""The watch line: the warning with its reason, or why there is none.

"No warning" alone would be a promise; the line says whether a warning could be given at all.
"""

from typing import Final

from livemon.monitor.snapshot import LaneState, SiteState, Trust, WarningState
from livemon.view.fault import site_fault
from livemon.view.heart_rate_words import steadiness_reason
from livemon.view.model import WatchModel
from livemon.view.numbers import rate, span, whole
from livemon.view.plan_words import announcement
from livemon.view.words import URGENCY, sentence_case, shortened

#: A site's name in a sentence; its full name stands on its card.
_NAME: Final = 26
#: More faults than this are counted, not listed: the cards say which they are.
_FAULTS: Final = 2


def warning_sentence(site: str, warning: WarningState) -> str:
    """Return the warning in one line."""
    name = sentence_case(shortened(site, _NAME))
    fall = f"{name} falling {rate(warning.fall_rate_pct_per_min)} %/min"
    since = f"{fall} for {span(warning.falling_for_s)}"
    if warning.bpm is None:
        return f"{since}, heart rate not known"
    return f"{since} while heart rate holds {whole(warning.bpm)}"


def watch_model(lane: LaneState) -> WatchModel:
    """Return the one line worth reading now: warning, else fault, else what the plan announces.

    Without any, what is waited for before a warning could be given.
    """
    warned = _most_urgent_first(lane.state.sites)
    if warned:
        return _on(warned)
    faults = _faults(lane)
    if faults:
        return WatchModel(None, faults, fault=True)
    said = announcement(lane)
    if said:
        return WatchModel(None, said, fault=False, announces=True)
    waiting = steadiness_reason(lane.state.heart_rate)
    if waiting:
        fault = lane.state.heart_rate.trust is not Trust.GOOD
        return WatchModel(None, f"{waiting}. Warnings wait.", fault=fault)
    if not lane.state.sites:
        return WatchModel(None, "No muscle sensor yet. Warnings wait.", fault=True)
    return WatchModel(None, "No warning", fault=False)


def _most_urgent_first(
    sites: tuple[SiteState, ...],
) -> list[tuple[SiteState, WarningState]]:
    pairs = [(site, site.warning) for site in sites if site.warning is not None]
    return sorted(pairs, key=lambda pair: (-URGENCY[pair[1].priority], pair[1].on_t_s))


def _on(warned: list[tuple[SiteState, WarningState]]) -> WatchModel:
    site, warning = warned[0]
    sentence = warning_sentence(site.site, warning)
    others = len(warned) - 1
    if others == 1:
        sentence += f"; {shortened(warned[1][0].site, _NAME)} too"
    elif others > 1:
        sentence += f"; {others} more sites too"
    return WatchModel(warning.priority, sentence, fault=False)


def _faults(lane: LaneState) -> str:
    """Return the oximeters' faults in one sentence; where nothing has come yet, what is awaited."""
    sites = lane.state.sites
    absent = [site.site for site in sites if site.trust is Trust.ABSENT]
    if sites and len(absent) == len(sites):
        strap = lane.state.heart_rate.trust is Trust.ABSENT
        return (
            "Waiting for the strap and the muscle sensors"
            if strap
            else ("Waiting for the muscle sensors")
        )
    named = [(shortened(site.site, _NAME), site_fault(site)) for site in sites]
    faults = [f"{sentence_case(name)}: {fault}" for name, fault in named if fault]
    if len(faults) > _FAULTS:
        return f"{len(faults)} muscle sensors give no reading"
    return " · ".join(faults)
