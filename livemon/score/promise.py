"""Which falls and hours the limits speak of, and how they are counted."""

from collections.abc import Sequence
from math import inf
from typing import Final

from livemon.score.event import Moment
from livemon.score.mishaps import STORMS
from livemon.score.result import FallResult, TraceResult

#: A fair fall lasts at least this long, at this rate or more.
FAIR_S: Final = 60.0
FAIR_PCT_PER_MIN: Final = 2.5
#: A feasible one is seen by the oracle within this share of its length.
FEASIBLE_SHARE: Final = 0.6


def is_fair(result: FallResult) -> bool:
    """Long and steep enough to be held to a promise, with heart rate to be seen throughout."""
    fall = result.fall
    long_and_steep = fall.seconds >= FAIR_S and fall.rate_pct_per_min >= FAIR_PCT_PER_MIN
    return long_and_steep and not fall.regained


def is_feasible(result: FallResult) -> bool:
    """Seen by the oracle within 60 % of its length."""
    return result.oracle_s is not None and result.oracle_s <= FEASIBLE_SHARE * result.fall.seconds


def calm_traces(results: Sequence[TraceResult]) -> list[TraceResult]:
    """Everything but the deliberate artefact storms."""
    return [r for r in results if r.key.scenario != STORMS]


def false_count(results: Sequence[TraceResult], working: bool | None = None) -> int:
    """Count the false warnings, at work, at rest, or in all."""
    return sum(
        edge.counts_as is Moment.FALSE and (working is None or edge.working is working)
        for result in results
        for edge in result.edges
    )


def quiet_hours(results: Sequence[TraceResult]) -> float:
    """Return the hours outside falls."""
    return sum(r.quiet_work_h + r.quiet_rest_h for r in results)


def delay_or_never(result: FallResult) -> float:
    """Return the delay; a fall that was missed has an infinite one."""
    return inf if result.delay_s is None else result.delay_s
