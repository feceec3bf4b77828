"""From what the traces gave to the published figures, each with its limit."""

from collections.abc import Sequence
from math import inf
from typing import Final

from livemon.score.event import Ending, Moment
from livemon.score.figure import Figure, per_hour, seconds
from livemon.score.mishaps import STORMS
from livemon.score.promise import (
    FAIR_S,
    calm_traces,
    delay_or_never,
    false_count,
    is_fair,
    is_feasible,
    quiet_hours,
)
from livemon.score.result import Count, FallResult, TraceResult

CLASS_LIMITS_S: Final = {
    (2.5, 4.0): 50.0,
    (4.0, 7.0): 33.0,
    (7.0, 12.0): 22.0,
    (12.0, 20.0): 17.0,
    (20.0, 30.0): 15.0,
}
#: What the forecast band states, and by how much it may be off.
FORECAST_STATED: Final = 0.9
_FORECAST_MAY_BE_OFF: Final = 0.05


def figures(results: Sequence[TraceResult]) -> tuple[Figure, ...]:
    """Work out every figure that has a limit, and some beside them."""
    calm = calm_traces(results)
    falls = [f for r in calm for f in r.falls]
    fair = [f for f in falls if is_fair(f)]
    return (
        *_false(results, calm),
        *_missed(falls, fair),
        *_delays(fair),
        *_ends([f for f in falls if f.fall.seconds >= FAIR_S]),
        *_coverage(results),
    )


def _false(results: Sequence[TraceResult], calm: list[TraceResult]) -> list[Figure]:
    storms = [r for r in results if r.key.scenario == STORMS]
    intervals = [r for r in results if r.key.scenario == "intervals"]
    changes = sum((r.pace_changes for r in results), Count())
    work_h, rest_h = sum(r.quiet_work_h for r in calm), sum(r.quiet_rest_h for r in calm)
    border = sum(e.counts_as > Moment.FALL for r in calm for e in r.edges)
    return [
        per_hour("false warnings", false_count(calm), work_h + rest_h, 0.06),
        per_hour("false warnings, work", false_count(calm, working=True), work_h, 0.08),
        per_hour("false warnings, rest", false_count(calm, working=False), rest_h, 0.02),
        per_hour("border cases, counted neither way", border, work_h + rest_h),
        Figure("pace changes that draw one", changes.share, "share", changes.total, 0.03),
        per_hour("false warnings, intervals", false_count(intervals), quiet_hours(intervals), 0.05),
        per_hour("false warnings, artefact storms", false_count(storms), quiet_hours(storms), 0.8),
    ]  # fmt: skip


def _missed(falls: list[FallResult], fair: list[FallResult]) -> list[Figure]:
    slow = [f for f in falls if f.fall.seconds >= FAIR_S and not is_fair(f) and not f.fall.regained]

    blind = Count(sum(not is_feasible(f) for f in slow), len(slow))

    def share(name: str, some: list[FallResult], at_most: float | None = None) -> Figure:
        missed = Count(sum(f.delay_s is None for f in some), len(some))
        return Figure(name, missed.share, "share", missed.total, at_most)

    return [
        share("feasible falls missed", [f for f in fair if is_feasible(f)], 0.01),
        share("fair falls missed", fair),
        share("falls of 1.5-2.5 %/min missed", slow),
        Figure("  not feasible for the oracle", blind.share, "share", blind.total),
    ]


def _delays(fair: list[FallResult]) -> list[Figure]:
    delays = [delay_or_never(f) for f in fair]
    # A missed fall has cost its whole length by the time that it ends.
    spent = [f.fall.seconds if f.delay_s is None else f.delay_s for f in fair]
    over = [delay_or_never(f) - f.oracle_s for f in fair if f.oracle_s is not None]
    oracle = [inf if f.oracle_s is None else f.oracle_s for f in fair]
    settled = [delay_or_never(f) for f in fair if f.fall.settles and f.fall.rate_pct_per_min >= 4.0]
    classes: list[Figure] = []
    for (low, high), limit in CLASS_LIMITS_S.items():
        here = [i for i, f in enumerate(fair) if low <= f.fall.rate_pct_per_min < high]
        name = f"at {low:g}-{high:g} %/min, median"
        classes += [
            seconds(f"delay {name}", [delays[i] for i in here], 0.5, limit),
            seconds("  the oracle's", [oracle[i] for i in here], 0.5),
        ]
    return [
        seconds("delay, median", delays, 0.5, 25.0),
        Figure("delay, mean", sum(spent) / len(spent) if spent else None, "s", len(spent), 32.0),
        seconds("delay, 90 %", delays, 0.9),
        seconds("oracle's delay, median", oracle, 0.5),
        seconds("over the oracle's, median", over, 0.5, 5.0),
        seconds("over the oracle's, 90 %", over, 0.9, 16.0),
        *classes,
        seconds("heart rate settles, median", settled, 0.5, 22.0),
        seconds("heart rate settles, 90 %", settled, 0.9, 42.0),
    ]


def _ends(falls: list[FallResult]) -> list[Figure]:
    def clears(ending: Ending) -> list[float]:
        return [f.clear_s for f in falls if f.clear_s is not None and f.fall.ending is ending]

    held = [f.held_share for f in falls if f.held_share is not None]
    edges = [f.edges for f in falls if f.delay_s is not None]
    return [
        seconds("clear delay, fall flattens, median", clears(Ending.FLATTENS), 0.5, 18.0),
        seconds("clear delay, work stops, median", clears(Ending.WORK_STOPS), 0.5, 10.0),
        Figure(
            "warning held", sum(held) / len(held) if held else None, "share", len(held),
            at_least=0.93,
        ),
        Figure(
            "on-edges per fall", sum(edges) / len(edges) if edges else None, "", len(edges), 1.2
        ),
    ]  # fmt: skip


def _coverage(results: Sequence[TraceResult]) -> list[Figure]:
    calm = sum((r.interval for r in results), Count())
    always = sum((r.interval_always for r in results), Count())
    ahead = sum((r.forecast for r in results), Count())
    return [
        Figure("90 % trend interval covers", calm.share, "share", calm.total, 0.94, 0.86),
        Figure("the same, transients too", always.share, "share", always.total),
        Figure(
            "forecast band covers", ahead.share, "share", ahead.total,
            FORECAST_STATED + _FORECAST_MAY_BE_OFF, FORECAST_STATED - _FORECAST_MAY_BE_OFF,
        ),
    ]  # fmt: skip
