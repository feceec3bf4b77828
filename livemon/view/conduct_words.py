"""What people's dealing with warnings changes in what is shown."""

from dataclasses import replace
from typing import Final

from livemon.tongue import said
from livemon.view.conduct import Conduct, Signal, Stage, outcome
from livemon.view.lanes_model import LaneModel, LanesModel, Urgency
from livemon.view.model import PaceModel, WatchModel
from livemon.view.numbers import clock, span
from livemon.view.words import PRIORITY, sentence_case, shortened

#: A strip has room for so much of a site's name beside the reason.
_NAME: Final = 14


def pace_after_conduct(model: PaceModel, conduct: Conduct, t_s: float) -> PaceModel:
    """Quieten the Pace page where somebody said so; tell what ended unseen."""
    aside = aside_words(conduct, model.athlete, t_s)
    if aside:
        watch = WatchModel(
            None, said("{aside}. {watch}", aside=aside, watch=model.watch.sentence), fault=False
        )
        sites = tuple(replace(site, warning=None) for site in model.sites)
        return replace(model, watch=watch, sites=sites)
    if model.watch.priority is not None:
        calls = conduct.calls(model.athlete)
        return replace(model, watch=replace(model.watch, calls=calls))
    missed = _missed(conduct, model.athlete)
    if missed is None:
        return model
    over = span(t_s - (missed.off_s or t_s))
    sentence = said("Not seen: {warning}; over for {time}", warning=missed.evidence, time=over)
    watch = WatchModel(missed.priority, sentence, fault=False, calls=False)
    return replace(model, watch=watch)


def lane_after_conduct(model: LaneModel, conduct: Conduct, t_s: float) -> LaneModel:
    """Quieten a strip where somebody said so; tell what ended unseen."""
    aside = aside_words(conduct, model.athlete, t_s)
    if aside:
        return replace(model, words=aside, priority=None, urgency=Urgency.CALM, calls=False)
    if model.urgency in {Urgency.DRAIN, Urgency.CAUTION}:
        return replace(model, calls=conduct.calls(model.athlete))
    missed = _missed(conduct, model.athlete)
    if missed is None:
        return model
    site = sentence_case(shortened(missed.site, _NAME))
    words = said("{site} fell, over for {time}", site=site, time=span(t_s - (missed.off_s or t_s)))
    return replace(
        model, words=words, priority=missed.priority, urgency=Urgency.MISSED, calls=False
    )


def lanes_after_conduct(model: LanesModel, conduct: Conduct) -> LanesModel:
    """Say on the page how many lanes are set aside, and that there is a flood."""
    parts = []
    if conduct.flood.on:
        parts.append(said("{n} warnings in 10 min: only drains call", n=conduct.flood.count))
    parts.append(model.summary)
    if conduct.aside:
        parts.append(said("{n} set aside", n=len(conduct.aside)))
    return replace(model, summary=" · ".join(parts))


def aside_words(conduct: Conduct, athlete: str, t_s: float) -> str:
    """Return for how long a lane is still set aside; nothing when it isn't."""
    for lane, until_s in conduct.aside:
        if lane == athlete:
            if until_s is None:
                return said("Out of service")
            return said("Set aside for {time}", time=clock(until_s - t_s))
    return ""


def log_rows(conduct: Conduct, names: dict[str, str]) -> tuple[tuple[str, str], ...]:
    """Return every warning of the session, the newest first: when and who, what and outcome."""
    signals = (*conduct.signals, *reversed(conduct.log))
    newest_first = sorted(signals, key=lambda signal: -signal.on_s)
    return tuple((_when(signal, names), _what(signal)) for signal in newest_first)


def _when(signal: Signal, names: dict[str, str]) -> str:
    return f"{clock(signal.on_s)} {names.get(signal.athlete, signal.athlete)}"


def _what(signal: Signal) -> str:
    return f"{said(PRIORITY[signal.priority])}: {signal.evidence}; {outcome(signal)}"


def _missed(conduct: Conduct, athlete: str) -> Signal | None:
    """Return the most urgent warning that ended before anybody saw it."""
    lingering = (s for s in conduct.of(athlete) if s.stage is Stage.LINGERING)
    return next(lingering, None)
