"""The same few figures for one scenario, one rate, one noise level at a time."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from livemon.score.cause import Cause
from livemon.score.event import Moment
from livemon.score.figure import quantile
from livemon.score.promise import (
    calm_traces,
    delay_or_never,
    false_count,
    is_fair,
    is_feasible,
    quiet_hours,
)
from livemon.score.result import TraceResult

#: No rate, rounding or noise level may be worse than twice the limit of the whole.
_TWICE_FALSE_PER_HOUR: Final = 0.12
_TWICE_MISSED: Final = 0.02
_TWICE_DELAY_S: Final = 50.0


@dataclass(frozen=True, slots=True)
class Row:
    """One group of traces."""

    group: str  #: "scenario", "rate", ...
    name: str
    traces: int
    quiet_h: float
    false: int
    border: int
    feasible: int
    missed: int
    delay_s: float | None  #: median over fair falls; a missed one has an infinite delay
    bounded: bool  #: whether the limits for rates, rounding and noise are asked of it

    @property
    def false_per_hour(self) -> float | None:
        """False warnings per hour outside falls."""
        return self.false / self.quiet_h if self.quiet_h else None

    @property
    def holds(self) -> bool | None:
        """Whether no figure is worse than twice the limit of the whole."""
        if not self.bounded:
            return None
        return (
            (self.false_per_hour or 0.0) <= _TWICE_FALSE_PER_HOUR
            and (not self.feasible or self.missed / self.feasible <= _TWICE_MISSED)
            and (self.delay_s or 0.0) <= _TWICE_DELAY_S
        )


@dataclass(frozen=True, slots=True)
class _Grouping:
    group: str
    level: Callable[[TraceResult], float | str]
    unit: str
    bounded: bool = False


_GROUPINGS: Final = (
    _Grouping("rate", lambda r: r.conditions.rate_hz, " Hz", bounded=True),
    _Grouping("rounding", lambda r: r.conditions.step_pct, " %", bounded=True),
    _Grouping("noise", lambda r: r.conditions.noise_sd, " %", bounded=True),
    _Grouping("kind of noise", lambda r: r.conditions.kind, ""),
    _Grouping("smoothing", lambda r: r.conditions.smoothing_s, " s"),
    _Grouping("radio", lambda r: r.conditions.link, ""),
)


def breakdown(results: Sequence[TraceResult]) -> tuple[Row, ...]:
    """Return a row for each group of traces; storms stand among the scenarios only."""
    names = dict.fromkeys(r.key.scenario for r in results)
    rows = [
        _row("scenario", name, False, [r for r in results if r.key.scenario == name])
        for name in names
    ]
    calm = calm_traces(results)
    for grouping in _GROUPINGS:
        groups: dict[float | str, list[TraceResult]] = {}
        for result in calm:
            groups.setdefault(grouping.level(result), []).append(result)
        rows += [
            _row(grouping.group, f"{level}{grouping.unit}", grouping.bounded, groups[level])
            for level in sorted(groups, key=lambda level: (isinstance(level, str), level))
        ]
    return tuple(rows)


def causes(results: Sequence[TraceResult]) -> tuple[tuple[str, int], ...]:
    """Return how many false warnings each circumstance had, storms left out."""
    why = [e.cause for r in calm_traces(results) for e in r.edges]
    return tuple((cause.value, why.count(cause)) for cause in Cause)


def _row(group: str, name: str, bounded: bool, results: list[TraceResult]) -> Row:
    fair = [f for r in results for f in r.falls if is_fair(f)]
    feasible = [f for f in fair if is_feasible(f)]
    return Row(
        group=group,
        name=name,
        traces=len(results),
        quiet_h=quiet_hours(results),
        false=false_count(results),
        border=sum(e.counts_as > Moment.FALL for r in results for e in r.edges),
        feasible=len(feasible),
        missed=sum(f.delay_s is None for f in feasible),
        delay_s=quantile([delay_or_never(f) for f in fair], 0.5),
        bounded=bounded,
    )
