"""What stands around the picture of a bout: the work, its one word, its few figures."""

from livemon.analyse.muscle import MuscleBout
from livemon.analyse.session import AthleteRecord, BoutAnalysis
from livemon.report.figures import NOTHING, amount, figure
from livemon.report.warned_words import warned_short
from livemon.report.words import ONE_WORD
from livemon.tongue import said


def what_of(found: BoutAnalysis) -> str:
    """Say what kind of work it was, and how hard."""
    bout = found.bout
    load = amount(bout.intensity.value, bout.intensity.unit) if bout.intensity else ""
    return ", ".join(part for part in (bout.kind, load) if part)


def word_of(found: BoutAnalysis, record: AthleteRecord) -> str:
    """Return the one word for the first working muscle."""
    working = _working(found, record)
    return said(ONE_WORD[working[0].word.balance]) if working else NOTHING


def facts_of(found: BoutAnalysis, record: AthleteRecord) -> tuple[str, ...]:
    """Return what stands under the picture of a bout."""
    working = _working(found, record)
    facts = [
        f"{f'{m.site} ' if len(working) > 1 else ''}{figure(m.late.slope, signed=True, decimals=1)}"
        for m in working
        if m.late.slope.value is not None
    ]
    warned = warned_short(found.warnings, found.bout)
    return tuple(fact for fact in (*facts, _body(found), warned) if fact)


def _working(found: BoutAnalysis, record: AthleteRecord) -> list[MuscleBout]:
    return [m for m in found.muscles if m.site not in record.idle_sites]


def _body(found: BoutAnalysis) -> str:
    heart, lactate = found.heart_rate.late_mean.value, found.lactate.last.value
    facts = [] if heart is None else [f"{heart:.0f}\N{NO-BREAK SPACE}bpm"]
    if lactate is not None:
        level = f"{lactate:.1f}\N{NO-BREAK SPACE}mmol/L"
        facts.append(said("lactate {level}", level=level))
    return ", ".join(facts)
