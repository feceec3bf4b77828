"""What was done, in one sentence: how many bouts, of what, how hard, how long, at which pulse."""

from livemon.analyse.session import AthleteAnalysis
from livemon.report.figures import clock
from livemon.report.lists import and_so_on, from_to
from livemon.tongue import said, said_n

_MOST_NAMED = 2  #: kinds of work; more are counted


def done(analysis: AthleteAnalysis) -> str:
    """Say what was done; the facts are a list, each of which stands by itself."""
    facts = [_loads(analysis), _times(analysis), _heart_rate(analysis)]
    return said_n(
        "You did {n} bout of {work}, {facts}.",
        "You did {n} bouts of {work}, {facts}.",
        len(analysis.bouts), work=_work(analysis), facts=", ".join(filter(None, facts)),
    )  # fmt: skip


def _work(analysis: AthleteAnalysis) -> str:
    kinds = list(dict.fromkeys(b.bout.kind for b in analysis.bouts if b.bout.kind))
    if not kinds:
        return said("work")
    if len(kinds) <= _MOST_NAMED:
        return and_so_on(kinds)
    return said_n("{n} kind of work", "{n} kinds of work", len(kinds))


def _loads(analysis: AthleteAnalysis) -> str:
    loads = [b.bout.intensity for b in analysis.bouts if b.bout.intensity is not None]
    if len({load.unit for load in loads}) != 1:
        return ""
    return from_to([load.value for load in loads], loads[0].unit)


def _times(analysis: AthleteAnalysis) -> str:
    times = sorted({round(b.bout.duration_s) for b in analysis.bouts})
    if len(times) > 1:
        return said("{low} to {high} each", low=clock(times[0]), high=clock(times[-1]))
    time = clock(times[0])
    return said("{time} each", time=time) if len(analysis.bouts) > 1 else time


def _heart_rate(analysis: AthleteAnalysis) -> str:
    rates = [v for b in analysis.bouts if (v := b.heart_rate.late_mean.value) is not None]
    if not rates:
        return ""
    return said("heart rate {rate}", rate=from_to([round(v) for v in rates], "bpm"))
