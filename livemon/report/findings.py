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
from livemon.report.figures import amount, clock, decimals_for, span
from livemon.report.warned_words import warned_sentence


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
        note = f"Nothing to compare yet: {analysis.note}."
        return Findings(note, (), (), ("Mark the start and the end of each bout.",))
    working = [(b, m) for b in analysis.bouts for m in b.muscles if m.site not in idle_sites]
    headline = _pace_headline(analysis)
    story = _story(working)
    meaning = [_done(analysis), *([story] if headline else []), *_limits(analysis)]
    return Findings(
        headline or story,
        (*meaning, *_recovery(working), *warned_sentence(analysis)),
        _sureness(analysis),
        next_time(analysis),
    )


def _done(analysis: AthleteAnalysis) -> str:
    """Say what was done: how many bouts, of what, how hard, how long, at which heart rate."""
    bouts = [b.bout for b in analysis.bouts]
    kinds = list(dict.fromkeys(b.kind for b in bouts if b.kind))
    what = f"{len(kinds)} kinds of work" if len(kinds) > 2 else " and ".join(kinds) or "work"
    said = f"You did {len(bouts)} {'bout' if len(bouts) == 1 else 'bouts'} of {what}"
    loads = [b.intensity for b in bouts if b.intensity is not None]
    if loads and len({i.unit for i in loads}) == 1:
        said += f", {_range([i.value for i in loads], loads[0].unit)}"
    times = sorted({round(b.duration_s) for b in bouts})
    said += f", {clock(times[0])}"
    said += f" to {clock(times[-1])} each" if len(times) > 1 else " each" if len(bouts) > 1 else ""
    rates = [v for b in analysis.bouts if (v := b.heart_rate.late_mean.value) is not None]
    return (
        f"{said}, heart rate {_range([round(v) for v in rates], 'bpm')}." if rates else f"{said}."
    )


def _range(values: Sequence[float], unit: str) -> str:
    low, high = min(values), max(values)
    return amount(low, unit) if low == high else f"{low:g} to {amount(high, unit)}"


def _pace_headline(analysis: AthleteAnalysis) -> str:
    for found in analysis.paces:
        at = found.pace.intensity
        if at.value is not None:
            kind = found.kind
            opening = f"{kind[:1].upper()}{kind[1:]}: your" if kind else "Your"
            return f"{opening} {found.site} holds up to about {_rounded(at)} ({span(at)})."
    return ""


_VERBS: Final = {
    Balance.SUPPLY_AHEAD: "refilled",
    Balance.IN_BALANCE: "held",
    Balance.AT_LOW: "stayed at its low",
    Balance.DEMAND_AHEAD: "drained",
}


def _story(working: Sequence[tuple[BoutAnalysis, MuscleBout]]) -> str:
    """Say in one sentence in which bouts the working muscle refilled, held and drained."""
    if not working:
        return "No working muscle was measured."
    sites = dict.fromkeys(m.site for _, m in working)
    said = []
    for site in sites:
        parts = []
        for balance, verb in _VERBS.items():
            numbers = [
                b.bout.number for b, m in working if m.site == site and m.word.balance is balance
            ]
            if numbers:
                parts.append(f"{verb} in {bouts(numbers)}")
        told = and_so_on(parts) if parts else "can’t be told from this session"
        said.append(f"Your {site} {told}." if parts else f"What your {site} did {told}.")
    return " ".join(said)


def and_so_on(parts: Sequence[str]) -> str:
    """Write a list as people say it."""
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"


def bouts(numbers: Sequence[int]) -> str:
    """Write bout numbers as people say them; three or more in a row become a range."""
    runs: list[list[int]] = []
    for n in sorted(set(numbers)):
        if runs and runs[-1][-1] == n - 1:
            runs[-1].append(n)
        else:
            runs.append([n])
    parts = [
        part
        for run in runs
        for part in ([f"{run[0]} to {run[-1]}"] if len(run) > 2 else map(str, run))
    ]
    return f"{'bout' if len(set(numbers)) == 1 else 'bouts'} {and_so_on(parts)}"


_LIMIT_WORDS: Final = {
    Limit.LOCAL: (
        "the working muscle lost oxygen while a resting one did not and heart rate held: the limit"
        " lay in the muscle itself."
    ),
    Limit.WHOLE_BODY: "the limit lay with heart, lungs and blood, not with this muscle alone.",
}


def _limits(analysis: AthleteAnalysis) -> list[str]:
    said = []
    for limit, words in _LIMIT_WORDS.items():
        numbers = [b.bout.number for b in analysis.bouts if b.limiter.limit is limit]
        if numbers:
            said.append(f"In {bouts(numbers)} {words}")
    return said or ["What set the limit can’t be told from this session."]


def _recovery(working: Sequence[tuple[BoutAnalysis, MuscleBout]]) -> list[str]:
    halves = [m.recovery.half_time.value for _, m in working]
    times = [round(t) for t in halves if t is not None]
    return (
        [f"After work the muscle was half refilled within {_range(times, 's')}."] if times else []
    )


def _sureness(analysis: AthleteAnalysis) -> tuple[str, ...]:
    said = [
        "Ranges in brackets hold the true value nine times in ten.",
        "From one day to another only a change of 15 points or more counts: placing the sensor"
        " anew moves the reading that much.",
    ]
    unsure = [
        f"bout {b.bout.number}, {m.site}: {m.word.reason}"
        for b in analysis.bouts
        for m in b.muscles
        if m.word.balance is Balance.UNSURE
    ]
    if unsure:
        said.append(f"Can’t tell: {'; '.join(unsure)}.")
    return tuple(said)


def _rounded(measure: Measure) -> str:
    return amount(round(measure.value or 0.0, decimals_for(measure)), measure.unit)
