"""What the session means, in plain sentences for the athlete. Every sentence rests on a figure."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from livemon.analyse.limits import Limit
from livemon.analyse.measure import Measure
from livemon.analyse.muscle import MuscleBout
from livemon.analyse.session import AthleteAnalysis, BoutAnalysis
from livemon.estimate.balance import Balance
from livemon.report.advice import next_time
from livemon.report.done import done
from livemon.report.figures import amount, decimals_for, span
from livemon.report.lists import and_so_on, from_to, numbered
from livemon.report.warned_words import warned_sentence
from livemon.reworded.analysis import analysis_said
from livemon.tongue import marked_n, said, said_n


@dataclass(frozen=True, slots=True)
class Findings:
    """The sheet's sentences, in order."""

    headline: str
    meaning: tuple[str, ...]
    sureness: tuple[str, ...]
    next_time: tuple[str, ...]


def find(analysis: AthleteAnalysis, idle_sites: frozenset[str]) -> Findings:
    """Put an analysis into words."""
    if not analysis.bouts:
        note = said("Nothing to compare yet: {reason}.", reason=analysis_said(analysis.note))
        return Findings(note, (), (), (said("Mark the start and the end of each bout."),))
    working = [(b, m) for b in analysis.bouts for m in b.muscles if m.site not in idle_sites]
    headline = _pace_headline(analysis)
    story = _story(working)
    meaning = [done(analysis), *([story] if headline else []), *_limits(analysis)]
    return Findings(
        headline or story,
        (*meaning, *_recovery(working), *warned_sentence(analysis)),
        _sureness(analysis),
        next_time(analysis),
    )


def _pace_headline(analysis: AthleteAnalysis) -> str:
    for found in analysis.paces:
        at = found.pace.intensity
        if at.value is None:
            continue
        site, load, kind = found.site, _rounded(at), found.kind
        if not kind:
            return said(
                "Your {site} holds up to about {load} ({range}).",
                site=site, load=load, range=span(at),
            )  # fmt: skip
        return said(
            "{work}: your {site} holds up to about {load} ({range}).",
            work=f"{kind[:1].upper()}{kind[1:]}", site=site, load=load, range=span(at),
        )  # fmt: skip
    return ""


#: What a muscle did in which bouts: an entry of a list, and the same as a sentence.
_DID: Final = {
    Balance.SUPPLY_AHEAD: (
        marked_n("refilled in bout {bouts}", "refilled in bouts {bouts}"),
        marked_n("Your {site} refilled in bout {bouts}.", "Your {site} refilled in bouts {bouts}."),
    ),
    Balance.IN_BALANCE: (
        marked_n("held in bout {bouts}", "held in bouts {bouts}"),
        marked_n("Your {site} held in bout {bouts}.", "Your {site} held in bouts {bouts}."),
    ),
    Balance.AT_LOW: (
        marked_n("stayed at its low in bout {bouts}", "stayed at its low in bouts {bouts}"),
        marked_n(
            "Your {site} stayed at its low in bout {bouts}.",
            "Your {site} stayed at its low in bouts {bouts}.",
        ),
    ),
    Balance.DEMAND_AHEAD: (
        marked_n("drained in bout {bouts}", "drained in bouts {bouts}"),
        marked_n("Your {site} drained in bout {bouts}.", "Your {site} drained in bouts {bouts}."),
    ),
}


def _story(working: Sequence[tuple[BoutAnalysis, MuscleBout]]) -> str:
    """Say for each working muscle in which bouts it refilled, held and drained."""
    sites = dict.fromkeys(m.site for _, m in working)
    return " ".join(_of_site(site, working) for site in sites) or said(
        "No working muscle was measured."
    )


def _of_site(site: str, working: Sequence[tuple[BoutAnalysis, MuscleBout]]) -> str:
    did = {
        balance: [b.bout.number for b, m in working if m.site == site and m.word.balance is balance]
        for balance in _DID
    }
    seen = {balance: numbers for balance, numbers in did.items() if numbers}
    if not seen:
        return said("What your {site} did can’t be told from this session.", site=site)
    if len(seen) == 1:
        ((balance, numbers),) = seen.items()
        return said_n(*_DID[balance][1], len(numbers), site=site, bouts=numbered(numbers))
    parts = [said_n(*_DID[b][0], len(ns), bouts=numbered(ns)) for b, ns in seen.items()]
    return said("Your {site}: {list}.", site=site, list=and_so_on(parts))


_LIMIT_WORDS: Final = {
    Limit.LOCAL: marked_n(
        "In bout {bouts} the working muscle lost oxygen while a resting one did not and heart rate "
        "held: the limit lay in the muscle itself.",
        "In bouts {bouts} the working muscle lost oxygen while a resting one did not and heart "
        "rate held: the limit lay in the muscle itself.",
    ),
    Limit.WHOLE_BODY: marked_n(
        "In bout {bouts} the limit lay with heart, lungs and blood, not with this muscle alone.",
        "In bouts {bouts} the limit lay with heart, lungs and blood, not with this muscle alone.",
    ),
}


def _limits(analysis: AthleteAnalysis) -> list[str]:
    found = []
    for limit, words in _LIMIT_WORDS.items():
        numbers = [b.bout.number for b in analysis.bouts if b.limiter.limit is limit]
        if numbers:
            found.append(said_n(*words, len(numbers), bouts=numbered(numbers)))
    return found or [said("What set the limit can’t be told from this session.")]


def _recovery(working: Sequence[tuple[BoutAnalysis, MuscleBout]]) -> list[str]:
    halves = [m.recovery.half_time.value for _, m in working]
    times = [round(t) for t in halves if t is not None]
    if not times:
        return []
    return [
        said("After work the muscle was half refilled within {time}.", time=from_to(times, "s"))
    ]


def _sureness(analysis: AthleteAnalysis) -> tuple[str, ...]:
    sentences = [
        said("Ranges in brackets hold the true value nine times in ten."),
        said(
            "From one day to another only a change of 15 points or more counts: placing the sensor"
            " anew moves the reading that much."
        ),
    ]
    unsure = [
        said(
            "bout {number}, {site}: {reason}",
            number=b.bout.number,
            site=m.site,
            reason=analysis_said(m.word.reason),
        )
        for b in analysis.bouts
        for m in b.muscles
        if m.word.balance is Balance.UNSURE
    ]
    if unsure:
        sentences.append(said("Can’t tell: {list}.", list="; ".join(unsure)))
    return tuple(sentences)


def _rounded(measure: Measure) -> str:
    return amount(round(measure.value or 0.0, decimals_for(measure)), measure.unit)
