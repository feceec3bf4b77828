"""Draw the traces, feed them, judge them: on as many processes as wanted, with the same result."""

from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from multiprocessing import get_context
from typing import Final

from livemon.score.breakdown import Row, breakdown, causes
from livemon.score.figure import Figure
from livemon.score.figures import figures
from livemon.score.judge import judge
from livemon.score.result import TraceResult
from livemon.score.seeds import Family, TraceKey, scenarios
from livemon.score.trace import trace
from livemon.score.watch import MakeMonitor, livemon_monitor, watch

#: Traces of each scenario: together more than 500 hours, and a taste of them.
FULL: Final = {Family.FINAL: 130, Family.TUNING: 170}
QUICK: Final = 8

_TRACES_AT_ONCE: Final = 4


@dataclass(frozen=True, slots=True)
class Score:
    """How good the warning is."""

    family: Family
    traces: int
    hours: float
    figures: tuple[Figure, ...]
    rows: tuple[Row, ...]
    causes: tuple[tuple[str, int], ...]  #: false warnings by circumstance

    @property
    def holds(self) -> bool:
        """Whether no figure and no row breaks its limit."""
        broken = any(f.holds is False for f in self.figures)
        return not broken and not any(r.holds is False for r in self.rows)


def score(
    family: Family,
    traces_each: int,
    make: MakeMonitor = livemon_monitor,
    workers: int = 1,
    progress: Callable[[int, int], None] = lambda done, total: None,
) -> Score:
    """Score the monitors that `make` makes on `traces_each` traces of every scenario."""
    results = trace_results(family, traces_each, make, workers, progress)
    return Score(
        family,
        len(results),
        sum(r.hours for r in results),
        figures(results),
        breakdown(results),
        causes(results),
    )


def trace_results(
    family: Family,
    traces_each: int,
    make: MakeMonitor = livemon_monitor,
    workers: int = 1,
    progress: Callable[[int, int], None] = lambda done, total: None,
) -> list[TraceResult]:
    """Return what each trace gave, scenario by scenario, in the order of their numbers."""
    # Numbers first: a run that is stopped has seen something of every scenario.
    keys = [TraceKey(family, name, n) for n in range(traces_each) for name in scenarios(family)]
    results = []
    for result in _each(keys, partial(one, make), workers):
        results.append(result)
        progress(len(results), len(keys))
    order = list(scenarios(family))
    return sorted(results, key=lambda r: (order.index(r.key.scenario), r.key.number))


def one(make: MakeMonitor, key: TraceKey) -> TraceResult:
    """Draw one trace, feed it, judge it."""
    drawn = trace(key)
    return judge(drawn, watch(drawn, make))


def _each(
    keys: list[TraceKey], work: Callable[[TraceKey], TraceResult], workers: int
) -> Iterator[TraceResult]:
    if workers <= 1:
        yield from map(work, keys)
        return
    # Spawned and not forked: the same on every system, and safe beside threads.
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as pool:
        yield from pool.map(work, keys, chunksize=_TRACES_AT_ONCE)
