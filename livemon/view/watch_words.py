"""The watch line: the warning with its reason, or why there is none.

"No warning" alone would be a promise; the line says whether a warning could be given at all.
"""

from typing import Final

from livemon.monitor.snapshot import LaneState, SiteState, Trust, WarningState
from livemon.tongue import marked, said
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

_BLIND: Final = marked("{site} falling {rate} %/min for {time}, heart rate not known")
_HOLDING: Final = marked("{site} falling {rate} %/min for {time} while heart rate holds {bpm}")


def warning_sentence(site: str, warning: WarningState) -> str:
    """Return the warning in one line."""
    return said(
        _BLIND if warning.bpm is None else _HOLDING,
        site=sentence_case(shortened(site, _NAME)),
        rate=rate(warning.fall_rate_pct_per_min),
        time=span(warning.falling_for_s),
        bpm=whole(warning.bpm),
    )


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
    announced = announcement(lane)
    if announced:
        return WatchModel(None, announced, fault=False, announces=True)
    waiting = steadiness_reason(lane.state.heart_rate)
    if waiting:
        fault = lane.state.heart_rate.trust is not Trust.GOOD
        return WatchModel(None, said("{reason}. Warnings wait.", reason=waiting), fault=fault)
    if not lane.state.sites:
        return WatchModel(None, said("No muscle sensor yet. Warnings wait."), fault=True)
    return WatchModel(None, said("No warning"), fault=False)


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
        other = shortened(warned[1][0].site, _NAME)
        sentence = said("{warning}; {site} too", warning=sentence, site=other)
    elif others > 1:
        sentence = said("{warning}; {count} more sites too", warning=sentence, count=others)
    return WatchModel(warning.priority, sentence, fault=False)


def _faults(lane: LaneState) -> str:
    """Return the oximeters' faults in one sentence; where nothing has come yet, what is awaited."""
    sites = lane.state.sites
    absent = [site.site for site in sites if site.trust is Trust.ABSENT]
    if sites and len(absent) == len(sites):
        strap = lane.state.heart_rate.trust is Trust.ABSENT
        return (
            said("Waiting for the strap and the muscle sensors")
            if strap
            else said("Waiting for the muscle sensors")
        )
    named = [(shortened(site.site, _NAME), site_fault(site)) for site in sites]
    faults = [f"{sentence_case(name)}: {fault}" for name, fault in named if fault]
    if len(faults) > _FAULTS:
        return said("{count} muscle sensors give no reading", count=len(faults))
    return " · ".join(faults)
